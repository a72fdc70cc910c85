// What lies in IndexedDB. Meta keys are listed in MetaValues, one value each.
import type { DBSchema, IDBPDatabase } from "../vendor/idb/index.js";
import type {
  Attention, Device, Entry, Finding, Person, PhotoRow, Preferences, Report, Session, Walk,
} from "../types.js";

/** An entry that the shed has not answered for. */
export interface Waiting {
  id: string;
  garden: string;
  notebook: string;
  number: number;
  /** Set when this entry alone made requests fail: it is tried again by hand, not in batches. */
  held?: boolean;
}

/** The notebook that this phone writes in: its last number, and the phone's logical clock. */
export interface Notebook { id: string; number: number; clock: string }

/** How far this phone has read the garden's log. */
export interface Cursor { garden: string; epoch: string; cursor: number }

/** What the last exchange with the shed said. */
export interface Heard {
  lastSyncMs: number;
  knownAtMs: number | null;
  devices: Device[];
  people: Person[];
  missing: number[];
  clockOff: number | null;
  assets: string;
  role: string;
}

export interface MetaValues {
  session: Session;
  notebook: Notebook;
  /** the garden that the notebook is written for */
  notebookGarden: string;
  /** every notebook that this phone has written in, oldest first */
  notebooks: string[];
  cursor: Cursor;
  heard: Heard;
  persisted: boolean;
  preferences: Preferences;
  revoked: boolean;
  /** the log whose shed was last asked which photos it has */
  photosAt: { garden: string; epoch: string };
  /** when the browser was last told to keep the device's secret for another while */
  renewedMs: number;
  /** scouting walks by garden and planting, each until it is put away */
  walks: Record<string, Walk>;
  /** what the rules found last, by subject; from what it was reckoned, and when all of it was */
  findings: {
    of: string; reviewed: { day: number; instant: number }; told: [string, Finding[]][];
  };
  /** what the shed worked out, by the address it was asked at */
  reports: Record<string, Report>;
}

export interface AttentionRow extends Omit<Attention, "entry"> {
  /** put away by the person; the row stays, since it keeps the entry out of the fold */
  dismissed?: boolean;
  /** what this phone wrote under an id that another entry of the shed's log has */
  own?: Entry;
}

/** The bytes of a photo, apart from its row, so that counting reads no image. */
export interface PhotoImage { id: string; image: ArrayBuffer }

export interface Schema extends DBSchema {
  entries: { key: string; value: Entry; indexes: { notebook: string } };
  outbox: { key: string; value: Waiting };
  attention: { key: string; value: AttentionRow };
  photos: { key: string; value: PhotoRow };
  images: { key: string; value: PhotoImage };
  meta: { key: keyof MetaValues; value: MetaValues[keyof MetaValues] };
}

export type Store = IDBPDatabase<Schema>;
