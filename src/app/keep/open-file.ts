import { bagTextIn, holdsResults } from '../core.ts';
import { readFile, words as reading } from '../page/read-file.ts';
import { isShelfText } from '../shelf/core.ts';
import { type ReopenHost, reopen, resultsIn } from './reopen.ts';

export interface OpenHost extends ReopenHost {
  /** Bags and tables of many runs have a sheet of their own. */ showBags(file: string): void;
  /** What a maker owns goes to her shelf. name: the file's. */ addToShelf(file: string, name: string): void;
}

/** Opens what was chosen or dropped, `of` so many at once: which of several was meant cannot be known, so none replaces the bag on the mat. */
export async function open(chosen: File | FileSystemEntry, of: number, host: OpenHost): Promise<void> {
  const { store, edits } = host;
  if (!(chosen instanceof File)) {
    const found = await resultsIn(chosen as FileSystemDirectoryEntry);
    if (found instanceof File) await open(found, 1, host);
    else store.set({ faults: [found] });
    return;
  }
  const read = of > 1 ? { got: reading.several(of), expected: reading.one } : await readFile(chosen);
  if (!('text' in read)) store.set({ faults: [{ path: '', ...read }] });
  else if (/"slumpline (bags|sweep table)"/.test(read.text)) host.showBags(read.text);
  else if (isShelfText(read.text)) host.addToShelf(read.text, chosen.name);
  else if (holdsResults(read.text)) await reopen(read.text, chosen.name, host);
  else edits.take(bagTextIn(read.text), '', true);
}
