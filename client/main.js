// @ts-check
// Wires the page: the garden, the screens, the address bar and the service worker.
import { makeActions } from "./garden/actions.js";
import { guessDeviceName } from "./garden/device_name.js";
import { openGarden } from "./garden/open.js";
import { makeBuzz } from "./parts/buzz.js";
import { makeDraw } from "./parts/draw.js";
import { undoByKey } from "./parts/notices.js";
import { takeRoute } from "./routes.js";
import { fetchSeldom } from "./screens/page.js";
import { keepAllIn, watchWorker } from "./worker.js";

/** @typedef {import("./types.js").Route} Route */

const page = /** @type {HTMLElement} */ (document.getElementById("page"));
// The round comes first; Safari has no idle time to tell of.
const whenIdle = globalThis.requestIdleCallback ?? ((work) => setTimeout(work, 2000));

async function start() {
  const garden = await openGarden();
  let applyUpdate = () => location.reload();
  const actions = makeActions(garden, () => applyUpdate());
  const draw = makeDraw(page, actions);
  const buzz = makeBuzz();
  let keptIn = "";
  // Whoever joins now may walk away in a moment; who has joined before has it all kept.
  const fetchRest = garden.state.session ? whenIdle : (/** @type {() => void} */ work) => work();
  garden.subscribe((state) => {
    buzz(state);
    const { documentElement } = document;
    documentElement.lang = state.language;
    documentElement.dataset.look = state.preferences.look;
    documentElement.dataset.hand = state.preferences.hand;
    draw(state);
    if (!state.session || state.language === keptIn) return;
    keptIn = state.language;
    void keepAllIn(keptIn);
    fetchRest(() => void fetchSeldom());
  });
  addEventListener("hashchange", () => follow(takeRoute()));
  addEventListener("keydown", undoByKey(() => garden.state, actions));
  addEventListener("beforeunload", (event) => {
    // What is in memory alone ends with the page: the browser asks first.
    if (garden.pen.unsaved.length) event.preventDefault();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void garden.review();
  });
  follow(takeRoute());

  /** @param {Route} route */
  function follow(route) {
    const isElsewhere = route.name !== garden.held.route.name || route.id !== garden.held.route.id;
    garden.held.route = route;
    garden.changed();
    if (isElsewhere) scrollTo(0, 0);
    // A phone that is in a garden already is asked first, by the screen.
    const isNew = route.name === "join" && route.id && !garden.held.session;
    if (isNew) void actions.join(route.id, guessDeviceName(garden.state.say));
  }

  watchWorker(() => garden.offerUpdate()).then((worker) => {
    applyUpdate = worker.apply;
    garden.onNewAssets = worker.look;
  }, () => garden.notice("warning", { key: "error.no_worker", values: {} }));
  await garden.loop.start();
}

start().catch((error) => {
  // Without storage or without its own files there is no garden to show, nor words: say what is
  // wrong in each language.
  const told = error instanceof Error ? error.message : error;
  page.textContent = `Shedbook can't start here. Shedbook no puede abrirse aquí. ${told}`;
  throw error;
});
