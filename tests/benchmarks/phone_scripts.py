"""What the phone's benchmark lets the page do: pieces of JavaScript that answer with numbers."""

# Before the page's own program: notes when the round is on the screen, first as much of it as is
# drawn at once and then whole, and when a strict transaction was written down. On the first opening
# of a day nothing is kept that the rules have found.
WATCH = """() => {
  const noted = { usableMs: null, wholeMs: null, firstStops: 0, durableMs: null, tapMs: null };
  globalThis.noted = noted;
  const painted = (done) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => done(performance.now());
    port2.postMessage(null);
  });
  const watch = new MutationObserver(() => {
    if (!document.querySelector('main h1')) return;
    const stops = document.querySelectorAll('main .stop').length;
    if (!stops && globalThis.stopsToShow) return;
    if (!noted.firstStops) painted((at) => { noted.usableMs ??= at; });
    noted.firstStops ||= stops;
    if (stops < globalThis.stopsToShow) return;
    watch.disconnect();
    painted((at) => { noted.wholeMs ??= at; });
  });
  watch.observe(document, { childList: true, subtree: true });
  const { get } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.get = function (key) {
    return get.call(this, globalThis.isFirstOfDay && key === 'findings' ? 'nothing' : key);
  };
  const { transaction } = IDBDatabase.prototype;
  IDBDatabase.prototype.transaction = function (...asked) {
    const made = transaction.apply(this, asked);
    if (asked[1] === 'readwrite' && asked[2]?.durability === 'strict') {
      made.addEventListener('complete', () => { noted.durableMs ??= performance.now(); });
    }
    return made;
  };
  addEventListener('click', (event) => {
    Object.assign(noted, { durableMs: null, tapMs: event.timeStamp });
  }, { capture: true });
}"""

# Resolves to the milliseconds from asking for the page until its round was painted: what is drawn
# at once, which fills the screen, and all of it.
COLD_START = """() => new Promise((done, failed) => {
  const look = () => {
    if (noted.usableMs === null || noted.wholeMs === null) return setTimeout(look, 20);
    const last = document.querySelectorAll('main .stop')[noted.firstStops - 1];
    if (last && last.getBoundingClientRect().bottom < innerHeight) failed('half a screen');
    done([noted.usableMs, noted.wholeMs]);
  };
  look();
})"""

# Resolves when the phone keeps what its rules have found.
FINDINGS_ARE_KEPT = """async () => {
  const asked = (request) => new Promise((done) => {
    request.onsuccess = () => done(request.result);
  });
  const [{ name }] = await indexedDB.databases();
  const store = await asked(indexedDB.open(name));
  while (!await asked(store.transaction('meta').objectStore('meta').get('findings')))
    await new Promise((again) => setTimeout(again, 50));
  store.close();
}"""

# Resolves to the milliseconds from the last tap until the disk had its entry.
TAP_TO_DURABLE = """() => new Promise((done) => {
  const look = () => noted.durableMs === null
    ? setTimeout(look, 5) : done(noted.durableMs - noted.tapMs);
  look();
})"""

# Puts a button on the page whose tap is one strict put of an entry into a database with the same
# stores: what the same page and disk can do at best.
ADD_BARE_BUTTON = """async () => {
  const asked = (request) => new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
  const [{ name }] = await indexedDB.databases();
  const own = await asked(indexedDB.open(name));
  const reading = own.transaction(own.objectStoreNames);
  const stores = [...own.objectStoreNames].map((store) => reading.objectStore(store));
  const making = indexedDB.open('bare', 1);
  making.onupgradeneeded = () => {
    for (const { name, keyPath, indexNames } of stores) {
      const made = making.result.createObjectStore(name, keyPath ? { keyPath } : {});
      for (const index of indexNames) made.createIndex(index, index);
    }
  };
  const bare = await asked(making);
  const { value } = await asked(own.transaction('entries').objectStore('entries').openCursor());
  own.close();
  const button = document.createElement('button');
  button.id = 'bare';
  button.textContent = 'Bare';
  button.style.cssText = 'position: fixed; inset: 0 0 auto; height: 60px; z-index: 9';
  button.onclick = () => bare.transaction('entries', 'readwrite', { durability: 'strict' })
    .objectStore('entries').put({ ...value, id: crypto.randomUUID() });
  document.body.append(button);
}"""

# How long the page is kept from drawing while what follows from one more entry is worked out, at
# most at a time, in milliseconds: a copy of the newest entry of its kind, about the same place.
RECKON = """async ([kind, field]) => {
  const { standing, present } = garden.held;
  const like = standing.events().findLast(
    (event) => event.kind === kind && (field === null || event[field] !== undefined));
  const number = globalThis.written = (globalThis.written ?? 1_000_000) + 1;
  const copied = standing.entries.get(like.id);
  const entry = { ...copied, id: crypto.randomUUID(), number, seq: undefined };
  let longest = 0;
  let last = performance.now();
  let isDone = false;
  const { port1, port2 } = new MessageChannel();
  const stopped = new Promise((done) => {
    port1.onmessage = () => {
      const now = performance.now();
      longest = Math.max(longest, now - last);
      last = now;
      if (isDone) done(); else port2.postMessage(null);
    };
  });
  port2.postMessage(null);
  await standing.add([entry], present);
  isDone = true;
  await stopped;
  return longest;
}"""
