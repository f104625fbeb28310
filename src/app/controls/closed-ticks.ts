import { h } from '../page/dom.ts';
import type { State } from '../page/store.ts';
import type { FolderMaker } from './controls.ts';
import { words as all } from './words.ts';

const words = all.stance;

/** What of the bag's closures is closed in the stance shown; nothing of a bag that has none. */
export function addClosed(maker: FolderMaker, place: (element: HTMLElement) => HTMLElement, named: (name: string) => HTMLElement): void {
  const name = named(words.closed);
  const list = place(h('div', { class: 'closed-ticks', role: 'group', 'aria-label': words.closed }));
  const note = place(h('p', { class: 'controls-note' }));
  const boxes = new Map<string, HTMLInputElement>();
  maker.onState((s: State) => {
    const on = s.bag.stances.find((stance) => stance.name === s.stance) ?? s.bag.stances[0];
    const closures = s.bag.closures ?? [];
    name.hidden = list.hidden = note.hidden = closures.length === 0;
    // Made anew only when there are others: the box under the hand keeps the focus.
    if (closures.map((c) => c.name).join('\n') !== [...boxes.keys()].join('\n')) {
      boxes.clear();
      list.replaceChildren(
        ...closures.map((c) => {
          const box = h('input', { type: 'checkbox', 'data-key': `closed ${c.name}`, onchange: () => maker.wishes.setClosed(c.name, box.checked) });
          boxes.set(c.name, box);
          return h('label', { class: 'closed-tick' }, box, h('span', {}, c.name === c.kind ? c.name : `${c.name}, ${c.kind}`));
        }),
      );
    }
    for (const [closure, box] of boxes) box.checked = Array.isArray(on.closed) && on.closed.includes(closure);
    note.textContent = on.closed === 'left out' ? words.leftOut : Array.isArray(on.closed) && on.closed.length > 0 ? '' : words.allOpen;
  });
}
