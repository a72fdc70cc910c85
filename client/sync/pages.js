// @ts-check
// A page of the log in columns, turned back into its entries: see server/shedbook/sync/columns.py.

/** @typedef {import("../types.js").Entry} Entry */

/**
 * @typedef {unknown[] | {same: unknown} | {values: unknown[], at: number[]}
 *   | {prefix: string, rest: string[]} | {as: number}} Column
 *   the values row by row; one for all rows; each row's place among a few; how all begin and how
 *   each goes on; or what another column says
 */

/**
 * @typedef {object} Table the entries that have the same names
 * @property {string[]} names of what stands in the entry itself
 * @property {string[]} subjects
 * @property {string[]} details
 * @property {Column[]} columns of the names, then of the subjects, then of the details
 */

/**
 * @typedef {object} Page
 * @property {number} first the seq of the first entry; each further one has the next
 * @property {number[]} order for each entry the table whose next row it is
 * @property {Table[]} tables
 */

/**
 * The entries of a page, in the order of the log.
 * @param {Page} page
 * @returns {Entry[]}
 */
export function entriesOf({ first, order, tables }) {
  const readers = tables.map(rowReader);
  return order.map((table, place) => readers[table](first + place));
}

/**
 * Gives a table's rows, the next at each call.
 * @param {Table} table
 * @returns {(seq: number) => Entry}
 */
function rowReader({ names, subjects, details, columns }) {
  const cells = columns.map((column) => cellReader(column, columns));
  const ends = names.length + subjects.length;
  const [own, about, figures] = [
    cells.slice(0, names.length), cells.slice(names.length, ends), cells.slice(ends),
  ];
  let row = -1;
  return (seq) => {
    row += 1;
    return /** @type {any} */ ({
      ...objectOf(names, own, row),
      subjects: objectOf(subjects, about, row),
      details: objectOf(details, figures, row),
      seq,
    });
  };
}

/**
 * By entries, not by assignment: a name may be `__proto__`.
 * @param {string[]} names
 * @param {((row: number) => unknown)[]} cells
 * @param {number} row
 */
const objectOf = (names, cells, row) =>
  Object.fromEntries(names.map((name, place) => [name, cells[place](row)]));

/**
 * @param {Column} column
 * @param {Column[]} columns of the table
 * @returns {(row: number) => unknown}
 */
function cellReader(column, columns) {
  if (Array.isArray(column)) return (row) => column[row];
  if ("same" in column) return () => column.same;
  if ("at" in column) return (row) => column.values[column.at[row]];
  if ("rest" in column) return (row) => column.prefix + column.rest[row];
  return cellReader(columns[column.as], columns);
}
