import { h, refill } from './dom.ts';
import type { State } from './store.ts';
import { text } from './text.ts';

export interface PageWishes {
  /** A file was chosen or dropped, `of` so many at once; or a folder. */ open(chosen: File | FileSystemEntry, of: number): void;
  save(): void;
  startAgain(): void;
  /** An empty drafting table is asked for. */ newBag(): void;
  /** Opens one of the bags to start from, by its name. */ startFrom(template: string): void;
  /** The bags to start from are to be shown as pictures. */ showStarts(): void;
  /** The maker's own bags are to be shown. */ showBags(): void;
  /** Something is to be taken away: a picture, a report, a file. */ takeAway(): void;
  /** The tour is called. */ tour(): void;
  /** A question was chosen. */ turnTo(question: Question): void;
  undo(): void;
  redo(): void;
  /** The bag was given another name. */ rename(name: string): void;
}

/** The questions of the page, each a screen of its own. */
export type Question = 'stand' | 'straps' | 'swatch' | 'shelf' | 'cut';
const QUESTIONS: readonly Question[] = ['stand', 'straps', 'swatch', 'shelf', 'cut'];

/** Value of the list's own example. */
const EXAMPLE = ' example';
/** And of the empty table. */
const EMPTY = ' empty';

/** The frame of the page: header with the questions, controls at the left, the line-up, the spoken line. */
export class Page {
  readonly controls = h('aside', { class: 'controls', 'aria-label': text.controls.title });
  readonly lineUp = h('div', { class: 'lineup', tabindex: 0, role: 'region', 'aria-label': text.mat.label });
  readonly cutting = h('section', { class: 'cutting', tabindex: 0, 'aria-label': text.cut.label, hidden: true });
  readonly swatch = h('section', { class: 'swatch', 'aria-label': text.swatch.label, hidden: true }, h('p', { class: 'notice' }, text.swatch.coming));
  readonly straps = h('section', { class: 'strapping', 'aria-label': text.strapping.label, hidden: true }, h('p', { class: 'notice' }, text.strapping.coming));
  readonly shelf = h('section', { 'aria-label': text.shelving.label, hidden: true }, h('p', { class: 'notice' }, text.strapping.coming));
  readonly compare = h('div', { class: 'compared' });
  readonly main = h('main', { class: 'main' });
  question: Question = 'stand';
  readonly element: HTMLElement;
  private readonly spoken = h('div', { class: 'away', 'aria-live': 'polite', role: 'status' });
  private readonly name = h('button', { type: 'button', class: 'bag-name', title: text.file.rename, onclick: () => this.rename() });
  private readonly kept = h('span', { class: 'bag-kept' });
  private readonly tabs = QUESTIONS.map((q) => h('a', { href: `#${q}`, class: 'tab' }, text.tabs[q]));
  private readonly back = h('button', { type: 'button', class: 'plain undo', onclick: () => this.wishes.undo() }, text.history.undo);
  private readonly again = h('button', { type: 'button', class: 'plain redo', onclick: () => this.wishes.redo() }, text.history.redo);
  private readonly starts = h('select', { class: 'plain starts', 'aria-label': text.file.startHint, title: text.file.startHint });
  constructor(private readonly wishes: PageWishes) {
    this.main.append(this.cutting, this.swatch, this.straps, this.shelf, this.lineUp, this.compare);
    this.element = h('div', { class: 'page' }, this.header(), this.controls, this.main, this.spoken);
    this.acceptDrops();
    this.offer([]);
    this.starts.addEventListener('change', () => {
      const { value } = this.starts;
      this.starts.selectedIndex = 0;
      if (value === EXAMPLE) this.wishes.startAgain();
      else if (value === EMPTY) this.wishes.newBag();
      else if (value) this.wishes.startFrom(value);
    });
    window.addEventListener('hashchange', () => this.turn());
  }

  /** Shows the question that the address names, once everything that it asks for is there. */
  begin(): void {
    this.turn();
  }

  /** Fills the list of bags to start from. */
  offer(templates: readonly { readonly name: string; readonly title: string }[]): void {
    const entry = (value: string, label: string): HTMLElement => h('option', { value }, label);
    refill(
      this.starts,
      entry('', text.file.start),
      entry(EMPTY, text.file.empty),
      entry(EXAMPLE, text.file.example),
      ...templates.map((t) => entry(t.name, t.title)),
    );
  }

  /** Shows the question that the address names. */
  private turn(): void {
    const asked = QUESTIONS.find((q) => `#${q}` === window.location.hash) ?? 'stand';
    this.question = asked;
    this.tabs.forEach((tab, i) => {
      if (QUESTIONS[i] === asked) tab.setAttribute('aria-current', 'page');
      else tab.removeAttribute('aria-current');
    });
    // Beside the flat panels the bag being edited stays in sight.
    this.lineUp.hidden = asked !== 'stand' && asked !== 'cut';
    this.compare.hidden = asked !== 'stand';
    this.main.dataset.question = asked;
    this.swatch.hidden = asked !== 'swatch';
    this.straps.hidden = asked !== 'straps';
    this.shelf.hidden = asked !== 'shelf';
    // These have choices of their own in the place of the bag's.
    const own = asked === 'swatch' || asked === 'straps' || asked === 'shelf';
    this.controls.hidden = own;
    this.element.classList.toggle('wide', own);
    this.cutting.hidden = asked !== 'cut';
    this.wishes.turnTo(asked);
  }

  private header(): HTMLElement {
    const file = h('input', { type: 'file', accept: '.json,application/json,.html,text/html', class: 'away', tabindex: -1, 'aria-hidden': 'true' });
    file.addEventListener('change', () => {
      const chosen = file.files?.[0];
      // Emptied so that choosing the same file again is a change again.
      file.value = '';
      if (chosen) this.wishes.open(chosen, 1);
    });
    const button = (label: string, act: () => void, hint: string | null = null): HTMLElement =>
      h('button', { type: 'button', class: 'plain', title: hint, onclick: act }, label);
    return h(
      'header',
      { class: 'top' },
      h('h1', {}, text.name),
      h('nav', { 'aria-label': text.questions, class: 'tabs' }, ...this.tabs),
      h('div', { class: 'bag' }, this.name, this.kept),
      h(
        'div',
        { class: 'files' },
        this.back,
        this.again,
        button(text.file.open, () => file.click()),
        button(text.file.save, this.wishes.save),
        button(text.file.take, this.wishes.takeAway, text.file.takeHint),
        button(text.file.bags, this.wishes.showBags, text.file.bagsHint),
        this.starts,
        button(text.file.pictures, this.wishes.showStarts, text.file.picturesHint),
        h(
          'button',
          { type: 'button', class: 'plain', 'data-tour': true, title: text.tour.hint, 'aria-label': text.tour.hint, onclick: this.wishes.tour },
          text.tour.call,
        ),
        file,
      ),
    );
  }

  /** The name becomes a field: Enter or leaving it keeps what was typed, Escape does not. */
  private rename(): void {
    const input = h('input', { type: 'text', class: 'bag-naming', 'aria-label': text.file.rename, maxlength: 80 });
    const before = this.name.textContent ?? '';
    input.value = before;
    let open = true;
    const end = (keep: boolean): void => {
      if (!open) return;
      open = false;
      const typed = input.value.trim();
      const held = document.activeElement === input;
      input.replaceWith(this.name);
      if (held) this.name.focus();
      if (keep && typed !== '' && typed !== before) this.wishes.rename(typed);
    };
    input.addEventListener('blur', () => end(true));
    input.addEventListener('keydown', (event) => {
      if (event.key === 'Enter' || event.key === 'Escape') end(event.key === 'Enter');
    });
    this.name.replaceWith(input);
    input.select();
  }

  private acceptDrops(): void {
    const hint = h('div', { class: 'drop-hint', hidden: true, 'aria-hidden': 'true' }, text.file.dropHere);
    this.element.append(hint);
    let depth = 0;
    const over = (by: number): void => {
      depth = Math.max(0, depth + by);
      hint.hidden = depth === 0;
    };
    const holdsFile = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') ?? false;
    window.addEventListener('dragenter', (event) => holdsFile(event) && over(1));
    window.addEventListener('dragleave', (event) => holdsFile(event) && over(-1));
    window.addEventListener('dragover', (event) => {
      if (holdsFile(event)) event.preventDefault();
    });
    window.addEventListener('drop', (event) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      over(-depth);
      const files = event.dataTransfer?.files;
      const entry = event.dataTransfer?.items[0]?.webkitGetAsEntry();
      if (entry?.isDirectory) this.wishes.open(entry, 1);
      else if (files?.[0]) this.wishes.open(files[0], files.length);
    });
  }

  update(state: State): void {
    document.title = text.title(state.bag.name);
    refill(this.name, state.bag.name);
    refill(this.kept, state.saved ? (state.stepsKept ? text.file.saved : text.file.noSteps) : text.file.notSaved);
  }

  /** What the undo and redo buttons would do; null: nothing. They stay in the tab order, so that focus is not lost at the last step. */
  updateHistory(undo: string | null, redo: string | null): void {
    const dress = (button: HTMLElement, what: string | null, hint: (what: string) => string, nothing: string): void => {
      button.setAttribute('aria-disabled', String(what === null));
      button.title = what === null ? nothing : hint(what);
    };
    dress(this.back, undo, text.history.undoHint, text.history.nothing);
    dress(this.again, redo, text.history.redoHint, text.history.nothingAgain);
  }

  /** To the question being looked at. */
  focusTab(): void {
    this.tabs.find((tab) => tab.hasAttribute('aria-current'))?.focus();
  }

  /** Says something to a screen reader. */
  say(words: string): void {
    this.spoken.append(h('p', {}, words));
    while (this.spoken.childElementCount > 6) this.spoken.firstElementChild!.remove();
  }

  noPictures(): void {
    this.element.classList.add('flat');
    this.main.prepend(h('p', { class: 'notice' }, text.mat.flat));
  }
}
