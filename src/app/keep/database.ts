/** The browser's own database, where there is one: results by what they depend on, the maker's bags, and what lies on the shelf. Nothing leaves the machine. */
export const RESULTS = 'results';
export const BAGS = 'bags';
export const SHELF = 'shelf';

let opened: Promise<IDBDatabase> | null = null;

const open = (): Promise<IDBDatabase> =>
  new Promise((resolve, reject) => {
    const asked = indexedDB.open('slumpline', 2);
    asked.onupgradeneeded = ({ oldVersion }) => {
      const database = asked.result;
      // Each version adds what it brought, so that nothing that is kept is lost.
      if (oldVersion < 1) {
        database.createObjectStore(RESULTS, { keyPath: 'key' }).createIndex('used', 'used');
        database.createObjectStore(BAGS, { keyPath: 'id' });
      }
      if (oldVersion < 2) database.createObjectStore(SHELF, { keyPath: 'id' });
    };
    asked.onsuccess = () => {
      // Another tab with a newer page wants to change its form: this one lets go, and asks again when it needs it.
      asked.result.onversionchange = () => {
        asked.result.close();
        opened = null;
      };
      resolve(asked.result);
    };
    asked.onerror = () => reject(asked.error);
    asked.onblocked = () => reject(new Error('held by another tab'));
  });

/** What a request comes to. Errors: whatever the browser refuses it with. */
export const came = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

/** Does something with one of the stores; what it returns is known once everything is written. Errors: no database here, no room. */
export async function withStore<T>(name: string, mode: IDBTransactionMode, act: (store: IDBObjectStore) => Promise<T>): Promise<T> {
  opened ??= open().catch((error) => {
    opened = null;
    throw error;
  });
  const transaction = (await opened).transaction(name, mode);
  const finished = new Promise<void>((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error('aborted'));
  });
  // Whoever waits for the act hears of its failure; that of the whole must not go unheard either way.
  finished.catch(() => {});
  const result = await act(transaction.objectStore(name));
  await finished;
  return result;
}
