// The database of this device: the journal, photos, and copies of what was replaced. Where a browser
// keeps none, memory holds them until the page is closed.
const STORES = ["kept", "photos", "copies"];
const memory = new Map(STORES.map((s) => [s, new Map()]));
let opened;

function open() {
  opened ??= new Promise((found) => {
    try {
      const request = indexedDB.open("guardcell", 1);
      request.onupgradeneeded = () => { for (const s of STORES) request.result.createObjectStore(s); };
      request.onsuccess = () => { request.result.onversionchange = () => { request.result.close(); opened = undefined; }; found(request.result); };
      request.onerror = () => found(null);
    } catch { found(null); }
  });
  return opened;
}

/** Whether what is kept is there when the page is opened again. */
export const lasting = async () => (await open()) !== null;

/** Runs `work` on a store in one transaction; gives what it gives once that is on the disk. */
async function within(store, mode, work, without) {
  const base = await open();
  if (!base) return without(memory.get(store));
  return new Promise((found, failed) => {
    const transaction = base.transaction(store, mode, { durability: "strict" });
    let value;
    work(transaction.objectStore(store), (v) => { value = v; });
    transaction.oncomplete = () => found(value);
    transaction.onerror = transaction.onabort = () => failed(transaction.error ?? new Error("this device could not keep it"));
  });
}

export const get = (store, key) => within(store, "readonly", (s, give) => { s.get(key).onsuccess = (e) => give(e.target.result); }, (m) => m.get(key));
export const put = (store, key, value) => within(store, "readwrite", (s) => { s.put(value, key); }, (m) => { m.set(key, value); });
export const drop = (store, key) => within(store, "readwrite", (s) => { s.delete(key); }, (m) => { m.delete(key); });
export const clear = (store) => within(store, "readwrite", (s) => { s.clear(); }, (m) => { m.clear(); });
export const keys = (store) => within(store, "readonly", (s, give) => { s.getAllKeys().onsuccess = (e) => give(e.target.result); }, (m) => [...m.keys()]);

/** Puts a value in place of the one with this version; gives what is there then: another window may have been first. */
export const swap = (store, key, version, value) => within(store, "readwrite", (s, give) => {
  s.get(key).onsuccess = (e) => {
    const now = e.target.result;
    if ((now?.version ?? 0) !== version) { give(now); return; }
    s.put(value, key);
    give(value);
  };
}, (m) => { m.set(key, value); return value; });
