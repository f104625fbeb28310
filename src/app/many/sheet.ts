import '../style/starts.css';
import '../style/sheet.css';
import '../style/many.css';
import { saveFile } from '../page/browser-storage.ts';
import { h, refill } from '../page/dom.ts';
import { readFile } from '../page/read-file.ts';
import { showSheet } from '../page/sheet-dialog.ts';
import { planText, type RunsTable, runsCsv } from './core.ts';
import { Plots } from './plots.ts';
import { readMany, type TextFile } from './read.ts';
import { words } from './words.ts';

export interface ManyHost {
  readonly say: (line: string) => void;
}

let shown: HTMLDialogElement | null = null;

/** Opens the sheet with a sweep's table, or to be given one. */
export function showMany(host: ManyHost, first: TextFile | null = null): void {
  if (shown?.open) return;
  const note = h('div', { class: 'sheet-note', role: 'status' });
  const body = h('div', { class: 'many-body' });
  const title = h('p', { class: 'many-bag' });
  const table = h('input', { type: 'file', accept: '.json,application/json', class: 'away', tabindex: -1, 'aria-hidden': 'true' });
  const folder = h('input', { type: 'file', webkitdirectory: true, multiple: true, class: 'away', tabindex: -1, 'aria-hidden': 'true' });
  const csv = h('button', { type: 'button', class: 'plain', hidden: true }, words.saveCsv);
  const button = (label: string, act: () => void): HTMLElement => h('button', { type: 'button', class: 'plain', onclick: act }, label);
  const dialog = h(
    'dialog',
    { class: 'starts-sheet many-sheet', 'aria-labelledby': 'many-title' },
    h(
      'div',
      { class: 'starts-head' },
      h('h2', { id: 'many-title' }, words.title),
      button(words.close, () => dialog.close()),
    ),
    h('p', { class: 'starts-how' }, words.how),
    h(
      'div',
      { class: 'sheet-row' },
      button(words.table, () => table.click()),
      button(words.folder, () => folder.click()),
      csv,
      table,
      folder,
    ),
    title,
    note,
    body,
  );
  shown = dialog;
  showSheet(dialog);
  let made: RunsTable | null = null;
  let plots: Plots | null = null;
  dialog.addEventListener('close', () => plots?.end());

  const told = (line: string): void => {
    refill(note, h('p', {}, line));
    host.say(line);
  };
  csv.addEventListener('click', () => made && told(words.saved(saveFile(made.plan.bag, runsCsv(made.plan, made.runs), 'runs', 'csv'))));

  const take = (files: readonly TextFile[]): void => {
    const read = readMany(files, words);
    if (read.table === null) {
      refill(
        note,
        h('p', {}, words.refused),
        h('ul', { class: 'sheet-faults' }, ...read.faults.slice(0, 20).map((f) => h('li', {}, words.fault(f.path, f.got, f.expected)))),
      );
      return;
    }
    if (read.table.runs.length === 0) {
      told(words.empty);
      return;
    }
    try {
      const { plan, runs } = read.table,
        next = new Plots(read.table, told);
      plots?.end();
      [made, plots] = [read.table, next];
      refill(note);
      title.textContent = words.opened(plan.bag, words.counted(runs.length, plan.runs));
      csv.hidden = false;
      body.replaceChildren(
        next.element,
        h('details', {}, h('summary', {}, words.inWords), h('pre', { class: 'many-words', tabindex: 0 }, planText(plan), '\n', next.text)),
      );
      host.say(title.textContent);
    } catch {
      told(words.broken);
    }
  };
  /** Pictures and tables of the folder are not asked for: only what the sweep is read from. */
  const taken = async (chosen: readonly File[]): Promise<void> => {
    const needed = chosen.length === 1 ? chosen : chosen.filter((f) => /(^manifest.*|^table)\.json$|\.jsonl$/i.test(f.name)),
      files: TextFile[] = [];
    for (const file of needed) {
      const read = await readFile(file);
      if (!('text' in read)) return told(words.unread(read.got, read.expected));
      files.push({ name: file.name, text: read.text });
    }
    take(files);
  };
  for (const input of [table, folder])
    input.addEventListener('change', () => {
      const chosen = [...(input.files ?? [])];
      input.value = '';
      if (chosen.length > 0) void taken(chosen);
    });
  if (first) take([first]);
}
