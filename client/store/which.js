// @ts-check
// Which of the phone's two books this page has open: its garden's, or the example to play in. They
// share nothing but the browser: each has a database, a channel between tabs and a lock of its own.

const EXAMPLE_QUERY = "example";

/** Is this the example, of which nothing counts and nothing goes to the shed? */
export const IS_EXAMPLE = new URLSearchParams(globalThis.location?.search).has(EXAMPLE_QUERY);

export const EXAMPLE_ADDRESS = `/?${EXAMPLE_QUERY}#/`;
export const GARDEN_ADDRESS = "/#/";

export const GARDEN_BOOK = "shedbook";
/** The name of the database, and of what else belongs to the book alone. */
export const BOOK = IS_EXAMPLE ? "shedbook-example" : GARDEN_BOOK;
