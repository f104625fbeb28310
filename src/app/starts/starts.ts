import '../style/starts.css';
import type { Drafting } from '../flat/drafting.ts';
import { h } from '../page/dom.ts';
import { lengthText, type UnitChoice } from '../page/format.ts';
import { showSheet } from '../page/sheet-dialog.ts';
import { words } from './words.ts';

type Drawn = Pick<NonNullable<Awaited<ReturnType<Drafting['start']>>>, 'svg' | 'size'>;

export interface StartsHost {
  readonly units: UnitChoice;
  /** Opens a bag file. */ readonly take: (bag: string) => void;
}

type Template = Awaited<ReturnType<Drafting['templates']>>[number];

/** What is interesting about a template, one line: the question at the end of its note. */
const questionOf = (t: Template): string => {
  const asked = t.question.split(words.before)[1] ?? t.question;
  return asked.charAt(0).toUpperCase() + asked.slice(1);
};

let shown: HTMLDialogElement | null = null;

/** Pictures by the name of their template: those that came with the page, and those drawn here because they did not (a page served as it is written). */
const drawn = new Map<string, Drawn>();

/** Takes in the pictures that were drawn when the page was built. */
async function loadDrawn(): Promise<void> {
  if (drawn.size > 0) return;
  try {
    const answer = await fetch(new URL('starts.json', document.baseURI));
    if (!answer.ok) return;
    for (const [name, made] of Object.entries((await answer.json()) as Record<string, Drawn>)) drawn.set(name, made);
  } catch {
    // Without them they are drawn, one after another.
  }
}

/** Opens a sheet with the bags to start from as pictures. Escape or Close leaves it, and the focus goes back to where it came from. */
export async function showStarts(drafting: Drafting, host: StartsHost): Promise<void> {
  // A sheet that was left just now may not have heard of it yet.
  if (shown?.open) return;
  const grid = h('ul', { class: 'starts-grid' });
  const dialog = h(
    'dialog',
    { class: 'starts-sheet', 'aria-labelledby': 'starts-title' },
    h(
      'div',
      { class: 'starts-head' },
      h('h2', { id: 'starts-title' }, words.title),
      h('button', { type: 'button', class: 'plain', onclick: () => dialog.close() }, words.close),
    ),
    h('p', { class: 'starts-how' }, words.how),
    grid,
  );
  shown = dialog;
  showSheet(dialog);
  const [list] = await Promise.all([drafting.templates(), loadDrawn()]);
  if (list.length === 0) grid.append(h('li', {}, words.none));
  const cards = list.map((template) =>
    card(template, () => {
      dialog.close();
      host.take(template.text);
    }),
  );
  grid.append(...cards.map((c) => c.item));
  cards[0]?.button.focus();
  // One after another: the worker draws one at a time, and a sheet closed early should not keep it busy.
  for (const [i, template] of list.entries()) {
    if (!dialog.open) return;
    const made = drawn.get(template.name) ?? (await drafting.start(template.text));
    if (made) drawn.set(template.name, made);
    cards[i].fill(made, host.units);
  }
}

interface Card {
  readonly item: HTMLElement;
  readonly button: HTMLButtonElement;
  readonly fill: (made: Drawn | null, units: UnitChoice) => void;
}

function card(template: Template, choose: () => void): Card {
  const picture = h('span', { class: 'starts-picture', 'aria-hidden': 'true' }, words.drawing);
  const size = h('span', { class: 'starts-size' });
  const button = h(
    'button',
    { type: 'button', class: 'starts-card', 'data-start': template.name, onclick: choose },
    picture,
    h('strong', {}, template.title),
    size,
    h('span', {}, questionOf(template)),
  );
  return {
    item: h('li', {}, button),
    button,
    fill: (made, units) => {
      if (!made) {
        picture.textContent = words.missing;
        return;
      }
      // Our own drawing out of our own templates: nothing of a visitor's file is in it.
      picture.innerHTML = made.svg;
      const [w, d, tall] = made.size.map((m) => lengthText(m, units));
      size.textContent = words.size(w, d, tall);
    },
  };
}
