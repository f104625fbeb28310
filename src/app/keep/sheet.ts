import '../style/starts.css';
import '../style/sheet.css';
import { BagError, bagTextIn } from '../core.ts';
import type { Drafting } from '../flat/drafting.ts';
import { isTable } from '../many/mark.ts';
import { keptPreferences, keptSwatch, saveFile } from '../page/browser-storage.ts';
import { h } from '../page/dom.ts';
import { tryParse } from '../page/opening.ts';
import { readFile } from '../page/read-file.ts';
import { showSheet } from '../page/sheet-dialog.ts';
import { allBags, dropBag, freeName, type KeptBag, keepBagAs, readMany, writeMany } from './bags.ts';
import { words } from './words.ts';

export interface BagsHost {
  readonly drafting: Drafting;
  /** Id of the bag on the mat. */ readonly current: () => string;
  /** Puts a kept bag on the mat. */ readonly open: (bag: KeptBag) => void;
  /** The bag on the mat got another name here. */ readonly renamed: (name: string) => void;
  readonly say: (line: string) => void;
  readonly newId: () => string;
}

async function openMany(host: BagsHost, table: string | null): Promise<void> {
  const { showMany } = await import('../many/sheet.ts');
  showMany(host, table === null ? null : { name: 'table.json', text: table });
}

let shown: HTMLDialogElement | null = null;
/** Pictures of bags by their text: sewing one up takes a moment. */
const pictures = new Map<string, string>();

/** Opens the sheet of the maker's own bags. */
export async function showBags(host: BagsHost, firstFile: string | null = null): Promise<void> {
  // A sweep's table is no bag, and has a sheet of its own.
  if (firstFile !== null && isTable(firstFile)) return openMany(host, firstFile);
  if (shown?.open) return;
  const note = h('div', { class: 'sheet-note', role: 'status' });
  const grid = h('ul', { class: 'starts-grid' });
  const file = h('input', { type: 'file', accept: '.json,application/json', class: 'away', tabindex: -1, 'aria-hidden': 'true' });
  const button = (label: string, act: () => void): HTMLElement => h('button', { type: 'button', class: 'plain', onclick: act }, label);
  const dialog = h(
    'dialog',
    { class: 'starts-sheet', 'aria-labelledby': 'bags-title' },
    h(
      'div',
      { class: 'starts-head' },
      h('h2', { id: 'bags-title' }, words.title),
      button(words.close, () => dialog.close()),
    ),
    h('p', { class: 'starts-how' }, words.how),
    h(
      'div',
      { class: 'sheet-row' },
      button(words.exportAll, () => void exportAll()),
      button(words.import, () => file.click()),
      button(words.many, () => {
        dialog.close();
        void openMany(host, null);
      }),
      file,
    ),
    note,
    grid,
  );
  shown = dialog;
  showSheet(dialog);

  const told = (...lines: Node[]): void => note.replaceChildren(...lines);
  const tryTo = async (act: () => Promise<void>): Promise<void> => {
    try {
      await act();
    } catch {
      told(h('p', {}, words.full));
    }
  };

  const exportAll = async (): Promise<void> => {
    const name = saveFile('slumpline', writeMany(await allBags(), { preferences: keptPreferences(), swatch: keptSwatch() }), 'bags');
    host.say(name);
  };

  const importFile = async (text: string): Promise<void> => {
    const many = readMany(text) ?? [{ name: '', text }];
    const faults: string[] = [];
    let [added, refused] = [0, 0];
    for (const one of many) {
      const read = tryParse(one.text);
      if (read instanceof BagError) {
        refused++;
        faults.push(...read.faults.slice(0, 20).map((f) => words.fault(one.name, f.path, f.got, f.expected)));
        continue;
      }
      const taken = (await allBags()).map((b) => b.name);
      const name = freeName(read.bag.name, taken);
      await keepBagAs({ id: host.newId(), name, text: JSON.stringify({ ...read.form, name }, null, 2), changed: Date.now() });
      added++;
    }
    await draw();
    told(
      h('p', {}, words.imported(added)),
      ...(refused > 0 ? [h('p', {}, words.refused(refused)), h('ul', { class: 'sheet-faults' }, ...faults.map((f) => h('li', {}, f)))] : []),
    );
  };
  file.addEventListener('change', () => {
    const chosen = file.files?.[0];
    file.value = '';
    if (chosen)
      void tryTo(async () => {
        const read = await readFile(chosen);
        if ('text' in read) await importFile(bagTextIn(read.text));
        else told(h('p', {}, words.notMany));
      });
  });

  const remove = async (bag: KeptBag): Promise<void> => {
    await dropBag(bag.id);
    await draw();
    told(
      h(
        'p',
        {},
        words.deleted(bag.name),
        ' ',
        button(
          words.back,
          () =>
            void tryTo(async () => {
              await keepBagAs(bag);
              told();
              await draw();
            }),
        ),
      ),
    );
    note.querySelector('button')?.focus();
  };

  const card = (bag: KeptBag): HTMLElement => {
    const picture = h('span', { class: 'starts-picture', 'aria-hidden': 'true' }, words.drawing);
    const here = bag.id === host.current();
    const name = h('strong', { class: 'own-name' }, bag.name);
    const act = (label: string, what: () => void): HTMLElement =>
      h('button', { type: 'button', class: 'plain', 'aria-label': words.of(label, bag.name), onclick: what }, label);
    const naming = (): void => {
      const input = h('input', { type: 'text', 'aria-label': words.of(words.rename, bag.name), maxlength: 80 });
      input.value = bag.name;
      let open = true;
      const end = (keep: boolean): void => {
        if (!open) return;
        open = false;
        const typed = input.value.trim();
        input.replaceWith(name);
        if (!keep || typed === '' || typed === bag.name) return;
        if (here) host.renamed(typed);
        void tryTo(async () => {
          await keepBagAs({ ...bag, name: typed, text: JSON.stringify({ ...(JSON.parse(bag.text) as object), name: typed }, null, 2) });
          await draw();
        });
      };
      input.addEventListener('blur', () => end(true));
      input.addEventListener('keydown', (event) => {
        if (event.key !== 'Enter' && event.key !== 'Escape') return;
        event.preventDefault();
        end(event.key === 'Enter');
      });
      name.replaceWith(input);
      input.select();
    };
    const item = h(
      'li',
      { class: 'own-bag', 'data-bag': bag.name },
      picture,
      name,
      h(
        'span',
        { class: 'starts-size' },
        here ? words.here : words.changed(new Date(bag.changed).toLocaleString([], { dateStyle: 'medium', timeStyle: 'short' })),
      ),
      h(
        'div',
        { class: 'sheet-row' },
        act(words.open, () => {
          dialog.close();
          if (!here) host.open(bag);
        }),
        act(words.rename, naming),
        act(
          words.duplicate,
          () =>
            void tryTo(async () => {
              const twin = freeName(
                bag.name,
                (await allBags()).map((b) => b.name),
              );
              await keepBagAs({
                id: host.newId(),
                name: twin,
                text: JSON.stringify({ ...(JSON.parse(bag.text) as object), name: twin }, null, 2),
                changed: Date.now(),
              });
              await draw();
            }),
        ),
        here ? null : act(words.remove, () => void tryTo(() => remove(bag))),
      ),
    );
    void drawPicture(bag.text, picture);
    return item;
  };

  /** As a picture, never as markup: it is drawn from a file that may be anybody's. */
  const drawPicture = async (text: string, into: HTMLElement): Promise<void> => {
    const svg = pictures.get(text) ?? (await host.drafting.start(text))?.svg ?? null;
    if (svg) pictures.set(text, svg);
    if (svg) into.replaceChildren(h('img', { alt: '', src: `data:image/svg+xml,${encodeURIComponent(svg)}` }));
    else into.textContent = words.missing;
  };

  const draw = async (): Promise<void> => {
    try {
      const bags = await allBags();
      grid.replaceChildren(...(bags.length === 0 ? [h('li', {}, words.none)] : bags.map(card)));
    } catch {
      grid.replaceChildren(h('li', {}, words.nothing));
    }
  };
  await draw();
  if (firstFile !== null) await tryTo(() => importFile(firstFile));
  grid.querySelector('button')?.focus();
}
