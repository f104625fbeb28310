import { h } from '../page/dom.ts';
import { mass, type UnitChoice } from '../page/format.ts';
import type { Board } from './board-data.ts';
import type { BoardClosure, BoardHardware } from './board-trims.ts';
import { ClosureForm, type TrimWishes } from './closure-form.ts';
import { button, choices, tick } from './form-parts.ts';
import { MetalForm } from './metal-form.ts';
import { closureFields, metalFields } from './trim-rows.ts';
import { trim as words } from './trim-words.ts';

type Doing = keyof typeof words.doings;
type Place = { readonly panel: string; readonly at: readonly [number, number] };

/** What closes the bag, its feet and its metal: what is to be put on, and what there is. */
export class TrimForm {
  readonly element = h('div', { class: 'sheet-form' });
  private doing: Doing = 'closure';
  private readonly closure: ClosureForm;
  private readonly metal: MetalForm;
  constructor(private readonly wishes: TrimWishes) {
    this.closure = new ClosureForm(wishes);
    this.metal = new MetalForm(wishes);
  }

  /** What a press on the drawing means now. */
  get wants(): 'edges' | 'places' {
    return this.doing === 'closure' ? this.closure.wants : 'places';
  }

  get refs(): ReadonlySet<string> {
    return this.doing === 'closure' ? this.closure.refs : new Set();
  }

  /** The first part of two. */
  get first(): Place | null {
    return this.doing === 'closure' ? this.closure.first : null;
  }

  /** Nothing is half done any more. */
  leave(): void {
    this.closure.first = null;
  }

  pick(ref: string): void {
    this.closure.pick(ref);
  }

  press(place: Place): void {
    (this.doing === 'closure' ? this.closure : this.metal).press(place);
  }

  fill(board: Board, units: UnitChoice): true {
    const doings = (Object.keys(words.doings) as Doing[]).map((value) => ({ value, label: words.doings[value] }));
    const { closures, hardware } = board.trims;
    const closing = this.doing === 'closure';
    this.element.replaceChildren(
      h('h2', {}, closing ? words.closures : words.metal),
      choices(words.doing, doings, this.doing, (doing) => {
        this.doing = doing;
        this.wishes.picked();
      }),
      ...(closing ? this.closure.fill(board, units) : this.metal.fill(board, units)),
      ...(closing ? closures.map((c) => this.closureRows(board, c, units)) : hardware.map((p) => this.metalRows(board, p, units))),
      (closing ? closures.length : hardware.length) === 0 ? h('p', { class: 'small' }, closing ? words.noClosures : words.noMetal) : '',
    );
    return true;
  }

  private off(what: 'closures' | 'hardware', name: string): HTMLElement {
    const made = button(words.takeOffOf(name), `${what} ${name} off`, () => this.wishes.draw({ do: 'take off', what, name }));
    return h('div', { class: 'sheet-buttons' }, made);
  }

  private closureRows(board: Board, c: BoardClosure, units: UnitChoice): HTMLElement {
    return h(
      'section',
      { class: 'sheet-tasks' },
      h('h3', {}, words.off(c.name, c.line)),
      ...closureFields(c, units, this.wishes),
      h(
        'fieldset',
        { class: 'sheet-closed' },
        h('legend', {}, words.closedWhen),
        ...board.trims.stances.map((stance) =>
          tick(stance, `closures ${c.name} in ${stance}`, c.closedIn.includes(stance), (on) => this.wishes.draw({ do: 'closed', closure: c.name, stance, on })),
        ),
      ),
      this.off('closures', c.name),
    );
  }

  private metalRows(board: Board, p: BoardHardware, units: UnitChoice): HTMLElement {
    return h(
      'section',
      { class: 'sheet-tasks' },
      h('h3', {}, words.off(p.name, `${p.panel}, ${words.together(mass(p.weighs))}`)),
      ...metalFields(board, p, units, this.wishes),
      this.off('hardware', p.name),
    );
  }
}
