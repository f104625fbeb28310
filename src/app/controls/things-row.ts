import { h, refill } from '../page/dom.ts';
import { type ThingName, thingNames, thingPicture } from './things.ts';
import { words as all } from './words.ts';

const words = all.stance;

const known = (thing: string): string => (thing in words.things ? words.things[thing as ThingName] : thing);

/** Pictures of everyday things to put in, and the list of those that are in, each with a way out. */
export class ThingsRow {
  readonly put: HTMLElement;
  readonly inside = h('ul', { class: 'inside', 'aria-label': words.inside });
  constructor(
    putIn: (thing: ThingName) => void,
    private readonly takeOut: (thing: string) => void,
  ) {
    this.put = h(
      'div',
      { class: 'things', role: 'group', 'aria-label': words.put },
      ...thingNames.map((thing) => {
        const title = words.putIn(words.things[thing]);
        return h(
          'button',
          { type: 'button', class: 'thing-button', title, 'aria-label': title, 'data-key': `put ${thing}`, onclick: () => putIn(thing) },
          thingPicture(thing),
        );
      }),
    );
  }

  /** Names of what is in, in the order in which they were put in. */
  show(things: readonly string[]): void {
    this.inside.hidden = things.length === 0;
    const lines = [...new Set(things)].map((thing) => {
      const title = words.takeOut(known(thing));
      const out = h('button', { type: 'button', class: 'plain', 'data-out': thing, 'aria-label': title, title }, '−');
      return h('li', {}, h('span', {}, words.count(things.filter((t) => t === thing).length, known(thing))), out);
    });
    refill(this.inside, ...lines);
    for (const out of this.inside.querySelectorAll<HTMLElement>('[data-out]')) out.onclick = () => this.takeOut(out.dataset.out!);
  }
}
