import type { Result } from '../core.ts';
import type { Memory } from '../line-up/line-up-needs.ts';
import { came, RESULTS, withStore } from './database.ts';

/** Most results kept, half a megabyte each; those used longest ago go first. */
const MOST = 80;

/** Of everything that settles, as it was when the page was built: results of another solver are not those of this one. */
declare const __CORE__: string | undefined;
/** Digest of all that settles: what another solver found says nothing. */
export const VERSION = typeof __CORE__ === 'string' ? __CORE__ : '';

interface Kept {
  readonly key: string;
  /** Date.now() */ readonly used: number;
  readonly result: Result;
}

/** SHA-256 of what a result depends on, hex. */
async function hashed(inputs: string): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(`${VERSION}\n${inputs}`));
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/**
 * Results kept from visit to visit. null where the browser has no database, no hashes (a page that is not served safely), or the page was not built, so that
 * nobody knows which solver made them. `full` is told once when there is no room for more.
 */
export async function openResults(full: () => void): Promise<Memory | null> {
  if (VERSION === '' || typeof indexedDB === 'undefined' || !crypto.subtle) return null;
  let known: Set<IDBValidKey>;
  try {
    known = new Set(await withStore(RESULTS, 'readonly', (store) => came(store.getAllKeys())));
  } catch {
    return null;
  }
  let told = false;
  return {
    recall: async (inputs) => {
      try {
        const key = await hashed(inputs);
        if (!known.has(key)) return null;
        const kept = await withStore(RESULTS, 'readwrite', async (store) => {
          const found = (await came(store.get(key))) as Kept | undefined;
          if (found) store.put({ ...found, used: Date.now() } satisfies Kept);
          return found;
        });
        return kept?.result ?? null;
      } catch {
        return null;
      }
    },
    remember: (inputs, result) => {
      const keep = async (): Promise<void> => {
        const key = await hashed(inputs);
        if (known.has(key)) return;
        await withStore(RESULTS, 'readwrite', async (store) => {
          store.put({ key, used: Date.now(), result } satisfies Kept);
          known.add(key);
          await drop(store, (await came(store.count())) - MOST, known);
        });
      };
      keep()
        // No room: the older half makes some, and it is tried once more.
        .catch(async () => {
          await withStore(RESULTS, 'readwrite', async (store) => drop(store, Math.ceil((await came(store.count())) / 2), known));
          await keep();
        })
        .catch(() => {
          if (!told) full();
          told = true;
        });
    },
  };
}

/** Drops so many of the results used longest ago. */
function drop(store: IDBObjectStore, many: number, known: Set<IDBValidKey>): Promise<void> {
  return new Promise((resolve, reject) => {
    if (many <= 0) return resolve();
    let left = many;
    const walk = store.index('used').openKeyCursor();
    walk.onerror = () => reject(walk.error);
    walk.onsuccess = () => {
      const cursor = walk.result;
      if (!cursor || left-- <= 0) return resolve();
      known.delete(cursor.primaryKey);
      store.delete(cursor.primaryKey);
      cursor.continue();
    };
  });
}
