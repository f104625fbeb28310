import { came, SHELF, withStore } from '../keep/database.ts';

/** A shelf as it is written: the value of a shelf file, which may be empty. */
export interface ShelfValue {
  readonly shelf: 1;
  readonly name?: string;
  readonly currency?: string;
  readonly items: Readonly<Record<string, unknown>>;
  readonly materials?: Readonly<Record<string, unknown>>;
  readonly [other: string]: unknown;
}

export const EMPTY_SHELF: ShelfValue = { shelf: 1, name: 'My shelf', items: {} };

/** The one shelf of this browser. */
const ID = 'mine';
interface Kept {
  readonly id: typeof ID;
  readonly value: ShelfValue;
}

/**
 * The maker's shelf, kept in the browser's database. A change is made to what lies there at that moment, in one transaction, so that two tabs never write over each
 * other; the other tabs are told. Where the browser keeps nothing, the shelf lasts as long as the page, and `kept` is false.
 */
export class ShelfKeeper {
  value: ShelfValue = EMPTY_SHELF;
  kept = true;
  private readonly channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('slumpline.shelf');
  constructor(private readonly changed: () => void) {
    if (this.channel) this.channel.onmessage = () => void this.load();
  }

  async load(): Promise<void> {
    try {
      const found = (await withStore(SHELF, 'readonly', (store) => came(store.get(ID)))) as Kept | undefined;
      if (found) this.value = found.value;
      this.kept = true;
    } catch {
      this.kept = false;
    }
    this.changed();
  }

  async change(edit: (value: ShelfValue) => ShelfValue): Promise<void> {
    try {
      this.value = await withStore(SHELF, 'readwrite', async (store) => {
        const found = (await came(store.get(ID))) as Kept | undefined;
        const value = edit(found?.value ?? this.value);
        store.put({ id: ID, value } satisfies Kept);
        return value;
      });
      this.kept = true;
      this.channel?.postMessage(null);
    } catch {
      this.value = edit(this.value);
      this.kept = false;
    }
    this.changed();
  }
}
