import { ThingsRow } from '../controls/things-row.ts';
import { h, uniqueId } from '../page/dom.ts';
import { type EverydayThing, type Thing, usualThing } from './core.ts';
import { words } from './words.ts';

/** As many as a bag file may name. */
const MOST = 12;

/** Things picked with pictures, of their usual size; those that a stance brought keep their own. */
export class Inside {
  readonly element: HTMLElement;
  private readonly row: ThingsRow;
  private readonly wrong = h('span', { class: 'field-fault', id: uniqueId('fault'), hidden: true });
  private things: readonly Thing[] = [];
  constructor(report: (things: readonly Thing[]) => void) {
    this.row = new ThingsRow(
      (thing) => {
        if (this.things.length >= MOST) this.fault(words.mostThings(MOST));
        else report([...this.things, usualThing(thing satisfies EverydayThing)]);
      },
      (thing) => {
        const last = this.things.map((t) => t.thing).lastIndexOf(thing);
        report(this.things.filter((_, i) => i !== last));
        // The button that was pressed may be gone.
        this.row.put.querySelector<HTMLElement>('button')?.focus();
      },
    );
    this.row.put.setAttribute('aria-describedby', this.wrong.id);
    this.element = h(
      'div',
      { class: 'straps-things' },
      h('p', { class: 'straps-things-name', 'aria-hidden': 'true' }, words.things),
      this.row.put,
      this.row.inside,
      this.wrong,
    );
  }

  show(things: readonly Thing[]): void {
    if (things !== this.things) this.fault(null);
    this.things = things;
    this.row.show(things.map((t) => t.thing));
  }

  /** Why they are not held. */
  fault(why: string | null): void {
    this.wrong.hidden = why === null;
    if (this.wrong.textContent !== (why ?? '')) this.wrong.textContent = why ?? '';
  }
}
