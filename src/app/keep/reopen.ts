import '../style/sheet.css';
import { BagError, bagTextIn, type Fault, type Result } from '../core.ts';
import { columnsFor, MOST_ON_MAT } from '../line-up/columns.ts';
import type { LineUp } from '../line-up/line-up.ts';
import type { BagEdits } from '../page/bag-edits.ts';
import { groupFirst } from '../page/bag-form.ts';
import { h } from '../page/dom.ts';
import { tryParse } from '../page/opening.ts';
import type { Store } from '../page/store.ts';
import { answerOf } from '../take/answer.ts';
import { words } from './words.ts';

/** What the worker makes of a results file or a report. */
export type Reopened = { readonly bagText: string; readonly results: readonly Result[]; readonly settledBy: string } | { readonly faults: readonly Fault[] };

export interface ReopenHost {
  readonly store: Store;
  readonly edits: BagEdits;
  readonly lineUp: LineUp;
  /** Takes the line that says where the figures come from. */ readonly place: HTMLElement;
  readonly say: (line: string) => void;
}

/** Puts the bag of a results file or a report on the mat as it was settled. Results that cannot be shown are told, and their bag is settled here instead. */
export async function reopen(source: string, name: string, host: ReopenHost): Promise<void> {
  const { store, edits, lineUp } = host;
  const read = await answerOf<Reopened>(new Worker(new URL('./reopen-worker.ts', import.meta.url), { type: 'module' }), source).catch(
    (): Reopened => ({ faults: [{ path: '', got: name, expected: words.readable }] }),
  );
  if ('faults' in read) {
    const bag = bagTextIn(source);
    const [{ path, got, expected }] = read.faults;
    if (bag === source || !edits.take(bag, '', true)) store.set({ faults: read.faults });
    else note(host, words.anew(name, path, got, expected));
    return;
  }
  const { bagText, results, settledBy } = read;
  const parsed = tryParse(bagText);
  if (parsed instanceof BagError) return store.set({ faults: parsed.faults });
  // Known before the bag is on the mat, so that no solver is asked for it.
  lineUp.foresee(parsed.bag, results, store.state.preferences.fineness);
  if (!edits.take(bagText, '', true)) return;
  const { bag } = store.state;
  const [{ stance }] = results;
  const shown = results.filter((r) => r.stance === stance).slice(0, MOST_ON_MAT);
  const off = bag.options.map((o) => o.name).filter((option) => !shown.some((r) => r.option === option));
  const columns = columnsFor(bag, store.state.columns, off);
  store.set({ stance, off, columns, editing: 0, group: groupFirst(bag, columns[0].option) });
  lineUp.refresh();
  window.location.hash = 'stand';
  note(host, words.asSettled(name, settledBy), () => lineUp.settleAgain());
}

/** A line over the mat while what it says is so; again: settles the bag here. */
function note({ place, store, say }: ReopenHost, line: string, again?: () => void): void {
  place.querySelector('.reopened')?.remove();
  const act = (label: string, what?: () => void): HTMLElement =>
    h(
      'button',
      {
        type: 'button',
        class: 'plain',
        onclick: () => {
          box.remove();
          what?.();
        },
      },
      label,
    );
  const box: HTMLElement = h('div', { class: 'notice reopened sheet-row' }, h('span', {}, line), again ? act(words.again, again) : act(words.close));
  place.prepend(box);
  say(line);
  const { bag, preferences } = store.state;
  store.listen((now) => {
    if (now.bag !== bag || now.preferences.fineness !== preferences.fineness) box.remove();
  });
}

/** The results in a folder that was dropped: its result.json, else its report; a fault where it has neither. */
export async function resultsIn(folder: FileSystemDirectoryEntry): Promise<File | Fault> {
  for (const name of ['result.json', 'report.html']) {
    const file = await new Promise<File | null>((resolve) =>
      folder.getFile(
        name,
        {},
        (entry) => (entry as FileSystemFileEntry).file(resolve, () => resolve(null)),
        () => resolve(null),
      ),
    );
    if (file) return file;
  }
  return { path: '', got: folder.name, expected: words.folder };
}
