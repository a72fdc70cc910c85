// What the running garden hands to the screens, and what travels between the client's parts.
// Times: `*_ms`/`…Ms` are epoch milliseconds, `instant` epoch seconds, `day` days since 1970-01-01.

export type Details = Record<string, unknown>;
export interface Subjects { bed?: string; planting?: string; plants?: number[] }

/** An entry as it travels; seq, order and received_at come from the shed. */
export interface Entry {
  id: string;
  garden: string;
  notebook: string;
  number: number;
  kind: string;
  version: number;
  subjects: Subjects;
  happened_at: string;
  recorded_at: string;
  clock: string;
  device: string;
  person: string;
  details: Details;
  answers?: string;
  mends?: string;
  seq?: number;
  order?: string;
  received_at?: number;
}

/** An event as the ledger sees it: as last corrected, and gone when it was taken back. */
export interface LoggedEvent {
  id: string;
  kind: string;
  day: number;
  hour: number;
  minute: number;
  instant: number;
  order: string;
  bed?: string;
  planting?: string;
  plants?: number[];
  details: Details;
  answers?: string;
  person?: string;
  device?: string;
  lifted?: { person?: string; instant: number };
}

export interface Bed {
  id: string;
  hidden: boolean;
  name?: string;
  type?: "ground" | "raised" | "container" | "field";
  length_m?: number;
  width_m?: number;
  volume_l?: number;
  edge_m?: number;
  /** the edge nearest to who stands before it */
  near_edge?: "last_row" | "first_row" | "row_start" | "row_end";
  beside?: string[];
  retired_on?: string;
  [field: string]: unknown;
}

export interface Planting {
  id: string;
  hidden: boolean;
  bed?: string;
  /** every bed that it was ever put in, and the day on which it is known to have left one */
  beds?: string[];
  left?: Record<string, number>;
  crop?: string;
  variety?: string;
  /** how many */
  plants?: number;
  rows?: number;
  removed: Record<string, number>;
  standing: boolean;
  from_day?: number;
  until_day?: number;
  sown_day?: number;
  transplanted_day?: number;
  [field: string]: unknown;
}

export interface Settings {
  name?: string;
  zone?: string;
  walk_order?: string[];
  stale_after_hours?: number;
  thresholds?: Record<string, number>;
  crops?: Record<string, { family?: string }>;
  [field: string]: unknown;
}

export interface Message { key: string; values: Record<string, unknown> }

export type FindingState =
  | "upcoming" | "due" | "overdue" | "blocked" | "unknown" | "flagged" | "noted";

export interface Finding {
  key: string;
  rule: string;
  subject: Subjects;
  state: FindingState;
  opens: number | null;
  due: number | null;
  closes: number | null;
  from: number | null;
  until: number | null;
  entries: string[];
  settles: { kind: string; details: Details } | null;
  message: Message;
  reasons: Message[];
  /** kinds of work that a withholding finding holds back */
  blocks?: string[];
  /** kinds of work that a finding only warns of */
  warns?: string[];
  blocked_by?: string;
  was?: "due" | "overdue";
}

export interface Rule {
  id: string;
  shape: string;
  source: string;
  caution?: string;
  /** whose sentences tell of it, when they are not those of the shape */
  says?: string;
  urgency?: number;
  [param: string]: unknown;
}
/** Those facts about a crop that a screen shows. */
export interface CropFacts {
  family?: string;
  /** hot baths for its seed: °C, minutes and source, entry by entry */
  bath_c?: number[];
  bath_min?: number[];
  bath_sources?: string[];
}
export interface Rulebook {
  digest: string;
  rules: Rule[];
  crops: Record<string, CropFacts>;
  soils?: Record<string, Record<string, unknown>>;
  /** what so many pounds of a material fill, in US cups, by each source */
  fertilizers?: Record<string, { published: { pounds: number; cups: number; source: string }[] }>;
  organisms?: Record<string, { families?: string[] }>;
  /** troubles that stay in the soil, with whom they live on and for how long */
  hosts?: Record<string, object>;
  hand_work: string[];
  /** troubles of crops, the signs that can be picked, by organ, and how they are weighed */
  troubles: Record<string, import("./rules/troubles.js").Trouble>;
  signs: Record<string, string[]>;
  ranking: Record<string, number>;
  /** what each key of a source stands for */
  sources: Record<string, string>;
}

/** A day of a bed's water account, in mm over the bed; the dry and wet ends beside the middle. */
export interface WaterLine {
  day: number;
  depletion_mm: number;
  raw_mm: number;
  taw_mm: number;
  dry_mm: number;
  dry_raw_mm: number;
  wet_mm: number;
  wet_raw_mm: number;
  used_mm: number;
  ks: number;
  drained_mm: number;
  surely_drained_mm: number;
  rain_mm: number;
  given_mm: number;
  is_measured: boolean;
  et0_mm: number;
  is_filled: boolean;
}

/** A crop tried in a bed: what the rules on place say, and what that weighs against it. */
export interface Follower { crop: string; cost: number; findings: Finding[] }

export interface Withheld {
  state: "blocked" | "unknown" | "none_known";
  until: number | null;
  keys: string[];
  known_at: number | null;
  /** treatments on this phone that are in no reckoning, and may concern the place */
  uncounted?: string[];
}

/** By the field that holds the label's figure; null: not known. */
export interface LabelWait { field: string; until: number | null }

export interface View {
  kind: "planting" | "bed";
  subject: Subjects;
  bed: Bed | null;
  planting: Planting | null;
  settings: Settings;
  events: LoggedEvent[];
  residents: Planting[];
  neighbours: Planting[];
}

// --- kinds of entry, as the shed describes them (kinds.json) ---
export interface FieldDescription {
  name: string;
  type: "number" | "integer" | "text" | "long_text" | "choice" | "date" | "moment" | "boolean"
    | "month_day" | "id" | "sha256" | "id_list" | "text_list" | "number_list" | "name_list" | "kind" | "map"
    | "number_map" | "object_map";
  unit?: string;
  min?: number;
  max?: number;
  unusual_above?: number;
  unusual_below?: number;
  step?: number;
  max_length?: number;
  required?: boolean;
  choices?: string[];
  primary?: boolean;
}
export type SubjectRule = "required" | "optional" | "none";
export interface KindDescription {
  name: string;
  version: number;
  group: "place" | "work" | "weather" | "book";
  hand_work: boolean;
  structural: boolean;
  /** `place`: a bed or a planting, whichever is known */
  subjects: {
    bed: SubjectRule;
    planting: SubjectRule;
    plants: SubjectRule;
    place?: SubjectRule;
  };
  at_least_one: string[][];
  /** pairs of fields of which the first must not be above the second */
  not_above: string[][];
  /** pairs of fields of which the first is only said together with the second */
  needs: string[][];
  /** fields that the making entry of a bed or planting must have */
  needed_at_making: string[];
  fields: FieldDescription[];
}

// --- who this phone is ---
export interface Session {
  garden: { id: string; name: string; zone: string };
  device: { id: string; name: string };
  person: Person;
  role: string;
}
export interface Person { id: string; name: string }
export interface Device {
  id: string;
  name: string;
  person: string;
  /** absent in what was stored before the shed told it */
  role?: string;
  heard_at_ms: number | null;
  waiting: number;
  missing: number;
}
export interface Invitation { code: string; link: string; qr_svg: string; expires_at_ms: number }

// --- the outcome of sending ---
/** An entry of this phone that the shed did not take into the log, or took with remarks. */
export interface Attention {
  id: string;
  result: "set_aside" | "refused" | "failed" | "accepted" | "known";
  problems?: Record<string, string[]>;
  remarks?: Record<string, string[]>;
  hint?: string;
  mended_by?: string;
  at_ms: number;
  entry: Entry;
}

// --- photos ---
/** A picture as this phone made it: shrunk, and without what the camera wrote into it. */
export interface Picture {
  sha256: string;
  type: string;
  bytes: number;
  width_px: number;
  height_px: number;
  image: ArrayBuffer;
}
/** What this phone knows of a photo that it keeps; why the shed did not take it, as its code and
 * in its own words. */
export interface PhotoRow {
  id: string;
  garden: string;
  sha256: string;
  type: string;
  bytes: number;
  state: "waiting" | "refused" | "sent";
  kept_at_ms: number;
  code?: string;
  said?: string;
}
/** Why there is no picture to show: it is not here and nobody answers, or the shed has not got it. */
export type NoPicture = "away" | "not_sent";

export type SyncPhase =
  | "idle" | "running" | "unreachable" | "busy" | "not_storing" | "not_paired" | "revoked"
  | "failed";
export interface SyncState {
  phase: SyncPhase;
  /** code of the last error, a word key `error.<code>`; null after a good exchange. */
  error: string | null;
  nextTryMs: number | null;
}

/** A word to the person, shown until dismissed: key and values for `say`. */
export interface Notice {
  id: number;
  tone: "done" | "warning" | "trouble";
  message: Message;
  /** the entry that was written, told with where and how much. */
  entry?: string;
  /** a tap on "undo" takes the entry back. */
  mayUndo?: boolean;
}

export interface Route {
  /** round, bed, planting, plant, scouting-walk, record, entry, photo, log, attention, phone, shed, finding, new, walk,
   * garden or join. */
  name: string;
  /** the part after the name: id, kind, key or code */
  id: string;
  query: Record<string, string>;
}

export interface EventFilter { bed?: string; planting?: string; kind?: string; limit?: number }

/** Read-only questions to the ledger; cheap enough to ask while drawing. */
export interface Look {
  bed(id: string): Bed | undefined;
  planting(id: string): Planting | undefined;
  plantingsOf(bedId: string): Planting[];
  livePlants(planting: Planting): number[];
  /** Effective event of a root entry, undefined when taken back or unknown. */
  event(id: string): LoggedEvent | undefined;
  /** The entry as recorded, whatever became of it. */
  entry(id: string): Entry | undefined;
  /** Newest first; of one bed, one planting or the whole garden. */
  events(filter?: EventFilter): LoggedEvent[];
  view(subject: Subjects): View | undefined;
  finding(key: string): Finding | undefined;
  findingsOf(subject: Subjects): Finding[];
  /** Has the shed been silent for longer than the lead allows? Then nothing withheld is known. */
  isStale: boolean;
  /** Is this kind of work withheld here? Says blocked, unknown or none_known, never "safe". */
  withheld(kind: string, subject: Subjects): Withheld;
  /** The bed's water account, day by day up to now; undefined where none can be kept. */
  waterLines(bed: string): WaterLine[] | undefined;
  /** What charts draw of a bed or a planting. */
  series: import("./garden/series.js").Series;
  /** Until when an entry held work back by each figure of its label, running still or long over. */
  labelWaits(event: LoggedEvent): LabelWait[];
  kind(name: string): KindDescription | undefined;
  rule(id: string): Rule | undefined;
  /** What may follow in a bed, least against it first, and the day it is thought to be set out. */
  followers(bedId: string): { day: number; ranked: Follower[] } | undefined;
  /** What corrects or takes back a root entry (or any), the newest first. */
  mendings(rootId?: string): Entry[];
  /** Has the shed this entry? */
  isWaiting(entryId: string): boolean;
}

/** The calendar addresses that the shed has told of, and the one it has just made. */
export interface Calendars {
  known: { id: string; person: string; created_at_ms: number; own: boolean }[] | null;
  made: string | null;
}

/** How this phone talks to its person; nothing of it goes to the shed. */
export interface Preferences {
  /** undefined: the browser's own language. */
  language?: string;
  units: "metric" | "us";
  /** "device" follows the phone's own light or dark; "sun" is black on white, larger. */
  look: "device" | "sun";
  /** the thumb that reaches the buttons. */
  hand: "right" | "left";
  /** does the phone buzz when something is written? */
  buzz: "on" | "off";
  /** steps of the first hour that the person has put off for good. */
  skipped: string[];
}

export interface State {
  /** false until the log on the phone has been read. */
  ready: boolean;
  session: Session | null;
  route: Route;
  /** the garden's zone, its day number and the present instant there. */
  zone: string;
  today: number;
  now: number;
  /** not hidden, in walking order. */
  beds: Bed[];
  /** not hidden, by id. */
  plantings: Planting[];
  settings: Settings;
  /** most urgent first: overdue, due, blocked, unknown, flagged, upcoming, noted. */
  findings: Finding[];
  kinds: KindDescription[];
  rulebook: Rulebook;
  /** entries that the shed has not got. */
  waiting: number;
  /** photos, by their digest, that the shed has not got. */
  waitingPhotos: ReadonlySet<string>;
  /** photos that the shed would not take; they stay on this phone. */
  refusedPhotos: PhotoRow[];
  /** entries held in memory alone because the phone's storage refused them. */
  unsaved: number;
  lastSyncMs: number | null;
  /** when everything the shed had was last on this phone (epoch ms); null: never. */
  knownAtMs: number | null;
  sync: SyncState;
  attention: Attention[];
  /** entries in the log of this phone that could not be read into it. */
  faulty: Entry[];
  /** did a rule break down on a bed or planting? What it would say there is not known. */
  isBroken: boolean;
  devices: Device[];
  /** numbers of this phone's notebooks that the shed misses. */
  missing: number[];
  /** is the browser's promise to keep the data given? null: not asked yet. */
  persisted: boolean | null;
  /** a newer version waits for the person's tap. */
  update: boolean;
  /** seconds by which the phone's clock runs ahead (+) or behind (-), when over five minutes. */
  clockOff: number | null;
  notices: Notice[];
  /** scouting walks of this garden that are not put away yet */
  walks: Walk[];
  reports: Reports;
  calendars: Calendars;
  invitation: Invitation | null;
  look: Look;
  /** the languages there are, own names by code, and the one that is shown. */
  languages: Record<string, string>;
  language: string;
  preferences: Preferences;
  /** text of a word key in the person's language. */
  say(key: string, values?: Record<string, unknown>): string;
  /** text of a word key when there is one, else null: for optional words such as help. */
  sayIf(key: string, values?: Record<string, unknown>): string | null;
}

/** Plants looked over one after the other; kept on this phone until it is written down. */
export interface Walk {
  garden: string;
  planting: string;
  organism: string;
  /** what each find is told by: a grade, or a number for each `per` */
  by: "grade" | "count";
  per: string;
  /** plants in the order in which they are looked at, and how many make the first lap */
  order: number[];
  lap: number;
  /** what was seen, in the order seen */
  taps: WalkTap[];
  startedMs: number;
  /** the entry's moment: that of the last tap */
  lastAt: string;
  /** the id of the first entry that these taps will be: who finds it in the log finds them written */
  entry: string;
  /** set once it is in the log, and when */
  writtenMs?: number;
}
/** `found`: the number counted; null: the plant was passed over */
export interface WalkTap { plant: number; grade?: string; found: number | null }

export interface Draft {
  kind: string;
  subjects?: Subjects;
  details?: Details;
  /** default: now, in the garden's zone. */
  happened_at?: string;
  answers?: string;
  mends?: string;
  /** what was taken with it; of a `photo`, the very picture. */
  pictures?: Picture[];
  /** further entries of the same kind and moment, written with it or not at all */
  further?: { subjects?: Subjects; details: Details }[];
  /** chosen before: of a bed or planting the id that it shares with its entry, of a walk its mark */
  id?: string;
}

/** What else a correction restates; what is absent stays as it was. */
export interface Change { happened_at?: string; subjects?: Subjects }

/** What the shed worked out, and when it told so. */
export interface Report { atMs: number; answer: unknown }
export interface Reports {
  told: Record<string, Report>;
  asking: string | null;
  error: string | null;
}

export interface Actions {
  /** Resolves when the entry is durably on the phone. */
  record(draft: Draft): Promise<Entry>;
  /** Makes a bed; its id is the id of the entry. */
  makeBed(details: Details): Promise<Entry>;
  makePlanting(details: Details, bed?: string): Promise<Entry>;
  /** One tap on a finding: records what settles it for the finding's plants. */
  settle(finding: Finding): Promise<Entry>;
  decline(finding: Finding, reason: string): Promise<Entry>;
  /** Takes an entry back by a `void` entry. */
  undo(rootId: string, reason?: string): Promise<Entry>;
  /** Puts back what was taken back, as it was told before. */
  restore(rootId: string): Promise<Entry>;
  /** Restates all details of an event. */
  correct(rootId: string, restated: Details, change?: Change): Promise<Entry>;
  /** Problems and remarks of a draft, by field path. */
  check(draft: Draft): { problems: Record<string, Message[]>; remarks: Record<string, Message[]> };
  /** A picture made ready for the log; undefined, and said, when it can't be. */
  shrinkPicture(file: File): Promise<Picture | undefined>;
  /** Writes a photo into the log; `shows` is the entry that it belongs to. */
  addPhoto(file: File, subjects: Subjects, shows?: string): Promise<void>;
  /** A photo's bytes: this phone's own, else the shed's. */
  findPicture(sha256: string): Promise<Blob | NoPicture>;
  syncNow(): Promise<void>;
  join(code: string, deviceName: string): Promise<void>;
  /** Ends the pairing at the shed; the log stays on the phone. */
  leave(): Promise<void>;
  invite(name: string, role: string): Promise<void>;
  askCalendars(): Promise<void>;
  makeCalendar(): Promise<void>;
  shutCalendar(id: string): Promise<void>;
  revokeDevice(id: string): Promise<void>;
  /** Writes what the shed has not got to a JSON Lines file that the browser saves. */
  exportUnsent(): Promise<void>;
  exportEntry(id: string): Promise<void>;
  /** Takes in a file written by exportUnsent, on any phone; answers how many were new. */
  importEntries(file: File): Promise<number>;
  /** Writes a new entry that mends one which was set aside. */
  mend(id: string, draft: Draft): Promise<Entry>;
  /** Puts away an attention item that has been mended or that carries only remarks. */
  dismiss(id: string): Promise<void>;
  askToKeep(): Promise<void>;
  /** Keeps a scouting walk as it stands; resolves when it is durably on the phone. */
  keepWalk(walk: Walk): Promise<void>;
  /** Lets a walk of a planting go. */
  dropWalk(planting: string): Promise<void>;
  /** follows the person's choice of language and units from now on. */
  prefer(change: Partial<Preferences>): Promise<void>;
  /** Asks the shed for what it alone works out; the answer comes with the state. */
  askShed(name: string): Promise<void>;
  /** Ends the example for good, and goes back to the garden. */
  throwExampleAway(): Promise<void>;
  applyUpdate(): void;
  /** draws the present state again, with what has come since for it to be drawn by */
  redraw(): void;
  closeNotice(id: number): void;
  /** Goes to a hash route such as "#/bed/…". */
  go(hash: string): void;
}
