import { came, SHELF, withStore } from '../keep/database.ts';
import { VERSION } from '../keep/results.ts';
import type { Kept } from './core.ts';

/** Stacks that are remembered, those settled longest ago go first. */
const MOST = 500;

/** Beside the shelf itself, which is "mine". */
const ID = 'settled stacks';
interface Record {
  readonly id: typeof ID;
  /** Digest of the solver that settled them: another's say nothing. */ readonly core: string;
  readonly list: readonly Kept[];
}

/**
 * What searches of the shelf have settled, by the digest of everything that each answer hangs on. Kept in the browser's database, so that a search that was stopped, or whose page was
 * closed, goes on where it was. Where the browser keeps nothing they last as long as the page.
 */
export class SettledStacks {
  private readonly known = new Map<string, Kept>();
  private readonly loaded: Promise<void>;
  constructor() {
    this.loaded = this.load();
  }

  get size(): number {
    return this.known.size;
  }

  /** All of them, those of earlier visits too. */
  async list(): Promise<readonly Kept[]> {
    await this.loaded;
    return [...this.known.values()];
  }

  add(kept: Kept): void {
    this.known.delete(kept.key);
    if (this.known.size >= MOST) this.known.delete(this.known.keys().next().value!);
    this.known.set(kept.key, kept);
    void this.save();
  }

  private async load(): Promise<void> {
    try {
      const found = (await withStore(SHELF, 'readonly', (store) => came(store.get(ID)))) as Record | undefined;
      if (found && found.core === VERSION) for (const kept of found.list) this.known.set(kept.key, kept);
    } catch {
      // They last as long as the page then.
    }
  }

  private async save(): Promise<void> {
    await this.loaded;
    try {
      await withStore(SHELF, 'readwrite', async (store) => {
        const found = (await came(store.get(ID))) as Record | undefined;
        // Another tab may have settled others meanwhile.
        const others = found && found.core === VERSION ? found.list.filter((k) => !this.known.has(k.key)) : [];
        store.put({ id: ID, core: VERSION, list: [...others, ...this.known.values()].slice(-MOST) } satisfies Record);
      });
    } catch {
      // No room, or no database: the search itself is none the worse.
    }
  }
}
