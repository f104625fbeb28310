import { h, refill } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { Board, BoardSeam } from './board-data.ts';
import type { DrawEdit } from './drafting.ts';
import { draw as words } from './draw-words.ts';
import { button, field, pick, sizeText } from './form-parts.ts';

/** The seams of the bag: what each joins, how it is made, and a way to undo it. */
export class SeamList {
  readonly element = h('section', { class: 'seam-list' });
  private open = '';
  constructor(
    private readonly wishes: { draw(edit: DrawEdit): void; show(panel: string, seam: string): void; withUnit(value: string, before: string): string },
  ) {}

  fill(board: Board, units: UnitChoice): void {
    const list = board.seams.map((seam) => this.row(seam, units));
    refill(this.element);
    this.element.append(h('h3', {}, `${words.seams} (${board.seams.length})`), ...(list.length > 0 ? list : [h('p', { class: 'small' }, words.noSeams)]));
  }

  /** Opens one seam's row, when the list is next filled. */
  point(seam: string): void {
    this.open = seam;
  }

  private row(seam: BoardSeam, units: UnitChoice): HTMLElement {
    const apart = Math.abs(seam.lengths[0] - seam.lengths[1]);
    const row = h(
      'details',
      { class: 'seam-row', open: this.open === seam.name },
      h(
        'summary',
        { 'data-hold': `seam ${seam.name}` },
        h('b', {}, seam.name),
        ` ${words.seamLine(seam.sides[0], seam.sides[1])}`,
        h('small', {}, `${sizeText(seam.lengths[0], units)}, ${apart < 5e-5 ? words.same : words.apart(sizeText(apart, units))}`),
      ),
      ...seamChoices(seam, this.wishes.draw, this.wishes.withUnit),
    );
    // Heard of the summary: a row also opens by itself, when its seam has just been sewn.
    row.querySelector('summary')?.addEventListener('click', () => {
      this.open = row.open ? '' : seam.name;
      if (!row.open) this.wishes.show(seam.sides[0].split('.')[0], seam.name);
    });
    return row;
  }
}

/** How a seam is made: its kind, allowance, pressing and gathers, and a way to undo it. */
export function seamChoices(seam: BoardSeam, draw: (edit: DrawEdit) => void, withUnit: (value: string, before: string) => string): HTMLElement[] {
  // Further sides of a seam of three or more are seams of the draft alone.
  const written = seam.name.replace(/\+\d+$/, '');
  const choose = (choice: Record<string, string | null>): void => draw({ do: 'seam', seam: written, choice });
  const allowance = seam.allowance || words.allowanceUsual;
  return [
    pick(words.seamType, `seam type ${seam.name}`, kinds(words.types, seam.type), seam.type, (type) => choose({ type: type || null })),
    field(words.allowance, `seam allowance ${seam.name}`, allowance, (v) => choose({ allowance: withUnit(v, allowance) })).row,
    ...(seam.type === '' || seam.type === 'plain' || seam.type === 'turned'
      ? [pick(words.pressed, `seam pressed ${seam.name}`, Object.entries(words.presses), seam.pressed, (pressed) => choose({ pressed: pressed || null }))]
      : []),
    field(words.gathered, `seam gather ${seam.name}`, seam.gather, (v) => choose({ gather: ratioOf(v) }), words.gatheredNote).row,
    button(words.unpick, `seam unpick ${seam.name}`, () => draw({ do: 'unpick', seam: written })),
  ];
}

/** The list of kinds: plain stands once, whether it is written or not. */
const kinds = (all: Readonly<Record<string, string>>, now: string): [string, string][] =>
  Object.entries(all).filter(([key]) => key !== (now === 'plain' ? '' : 'plain'));

/** "1.5 to 1", "1.5" or "1,5" as the ratio that is written; null where nothing is gathered. */
const ratioOf = (typed: string): string | null =>
  typed
    .replace(',', '.')
    .replace(/\s*(to|:)\s*1\s*$/, '')
    .trim() || null;
