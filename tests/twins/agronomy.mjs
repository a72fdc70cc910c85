// Answers each JSON line {"module", "function", "args"} of its input with what that function of the
// phone's science returns, or with what it throws.
import { createInterface } from "node:readline";
import { AgronomyError } from "../../client/agronomy/errors.js";

const modules = new Map();

async function moduleNamed(name) {
  if (!modules.has(name)) modules.set(name, await import(`../../client/agronomy/${name}.js`));
  return modules.get(name);
}

async function answer(asked) {
  const module = await moduleNamed(asked.module);
  try {
    return { value: module[asked.function](...asked.args) };
  } catch (error) {
    if (!(error instanceof AgronomyError)) throw error;
    return { refused: [error.constructor.name, error.argument, error.value, error.limit] };
  }
}

for await (const line of createInterface({ input: process.stdin })) {
  process.stdout.write(`${JSON.stringify(await answer(JSON.parse(line)))}\n`);
}
