// What the phone does about photos, against a shed that plays a part: one request in, one answer out.
import { readFileSync } from "node:fs";
import { MemoryStore } from "./memory_store.mjs";

const [store, sync, shrinking, lines, digest] = await Promise.all([
  "store/photos", "sync/photos", "garden/photo_shrinking", "garden/photo_lines", "store/digest",
].map((name) => import(`../../client/${name}.js`)));

const GARDEN = "019dd2b0-7a41-7c3e-9f60-000000000001";
const answerOf = (status, body) => new Response(JSON.stringify(body), { status });
const errorOf = (status, code) => answerOf(status, { error: { code, message: `It is ${code}.` } });

/** A photo of some bytes that are no picture, since nothing here looks at it. */
async function aPhoto(number, state = "waiting") {
  const image = new TextEncoder().encode(`photo ${number}`).buffer;
  const sha256 = await digest.digestOf(image);
  return store.photoOf(GARDEN, { sha256, type: "image/jpeg", image }, state, number);
}

/** A phone with so many photos, and a shed that answers as it is told to. */
async function phoneWith(count, state, answer) {
  const phone = new MemoryStore("notebook");
  const photos = [];
  for (let number = 0; number < count; number += 1) photos.push(await aPhoto(number, state));
  const tx = phone.transaction(["photos", "images"]);
  await store.keepPhotos(tx, photos);
  const asked = [];
  globalThis.fetch = async (path, { method, body }) => {
    const name = path.split("/").at(-1);
    asked.push(name === "missing" ? JSON.parse(body).sha256.length : method);
    return answer(photos.findIndex(({ row }) => row.sha256 === name), name, photos, body);
  };
  return { phone, asked };
}

/** What is left on the phone after a talk about photos, each as its number and state. */
async function talk({ phone, asked }, { stopAfter = Infinity } = {}) {
  let changes = 0;
  const failed = await sync.exchangePhotos({
    store: phone,
    garden: GARDEN,
    isInterrupted: () => changes >= stopAfter,
    onChanged: async () => void (changes += 1),
  }).then(() => null, (error) => error.code);
  const rows = await store.readPhotoRows(phone);
  const images = await phone.getAll("images");
  return {
    failed, asked, images: images.length,
    left: rows.map(({ kept_at_ms, state, code, said }) => [kept_at_ms, state, code, said]),
  };
}

const taken = (_number, sha256) => answerOf(201, { sha256, bytes: 7 });

const SCENARIOS = {
  limits: async () => ({
    most_bytes: shrinking.MOST_BYTES, longest_px: shrinking.LONGEST_PX,
    type: shrinking.PHOTO_TYPE, most_asked: sync.MOST_ASKED, most_kept: sync.MOST_KEPT,
  }),

  plain: async ({ base64 }) => {
    const { plainJpeg } = await import("../../client/garden/plain_jpeg.js");
    const image = Uint8Array.from(Buffer.from(base64, "base64")).buffer;
    return Buffer.from(plainJpeg(image)).toString("base64");
  },

  fitted: async ({ width, height }) => {
    const { width_px, height_px } = shrinking.fittedSize(width, height, shrinking.LONGEST_PX);
    return [width_px, height_px];
  },

  /** A line is read back as the photo that it was, or not at all. */
  async line({ change, fields }) {
    const photo = await aPhoto(1, "refused");
    const line = lines.asPhotoLine({ ...lines.toPhotoLine(photo), ...change });
    const read = line && (await lines.fromPhotoLine(line, fields));
    return read ? { ...read, image: new TextDecoder().decode(read.image) } : null;
  },

  /** Entries wait before the second photo is sent. */
  async interrupted() {
    return talk(await phoneWith(3, "waiting", taken), { stopAfter: 1 });
  },

  /** The shed answers for the second photo with an error, for the others as it should. */
  async error_for_the_second({ status, code }) {
    const answer = (number, name) => (number === 1 ? errorOf(status, code) : taken(number, name));
    return talk(await phoneWith(3, "waiting", answer));
  },

  /** More photos of the shed's than are kept; the oldest of them the shed has lost. */
  async too_many({ count, role = "helper" }) {
    const answer = (number, name, photos) => (
      name === "missing" ? answerOf(200, { missing: [photos[0].row.sha256] }) : taken(number, name));
    const with_ = await phoneWith(count, "sent", answer);
    await with_.phone.put("meta", { role }, "heard");
    return talk(with_);
  },

  /** The shed's log is another one, and it has no photos. */
  async another_log({ count, role }) {
    const answer = (number, name, _photos, body) => (
      name === "missing" ? answerOf(200, { missing: JSON.parse(body).sha256 }) : taken(number, name));
    const with_ = await phoneWith(count, "sent", answer);
    await with_.phone.put("meta", { garden: GARDEN, epoch: "new", cursor: 0 }, "cursor");
    await with_.phone.put("meta", { garden: GARDEN, epoch: "old" }, "photosAt");
    await with_.phone.put("meta", { role }, "heard");
    await talk(with_);
    return talk(with_);
  },

  /** A shed that knows no photos yet was put back, and is brought up to date later. */
  async older_shed({ count, code }) {
    let isOlder = true;
    const answer = (number, name, _photos, body) => {
      if (isOlder) return errorOf(404, code);
      return name === "missing" ? answerOf(200, { missing: JSON.parse(body).sha256 })
        : taken(number, name);
    };
    const with_ = await phoneWith(count, "sent", answer);
    await with_.phone.put("meta", { garden: GARDEN, epoch: "new", cursor: 0 }, "cursor");
    await with_.phone.put("meta", { garden: GARDEN, epoch: "old" }, "photosAt");
    const { failed, asked } = structuredClone(await talk(with_));
    isOlder = false;
    return { failed, asked, later: await talk(with_) };
  },
};

const { scenario, ...given } = JSON.parse(readFileSync(0, "utf-8"));
process.stdout.write(JSON.stringify(await SCENARIOS[scenario](given)));
