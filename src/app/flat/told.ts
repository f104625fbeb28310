import type { UnitChoice } from '../page/format.ts';
import type { DrawEdit } from './drafting.ts';
import type { DraftingSay } from './drafting-worker.ts';
import { nameOf, draw as words } from './draw-words.ts';
import { sizeText } from './form-parts.ts';

const sentence = (line: string): string => `${line.charAt(0).toUpperCase()}${line.slice(1)}.`;

/** What is said of an edit that was made: what it did, how the sides of a new seam compare, and what came of it besides. */
export function saidOf(edit: DrawEdit, say: Extract<DraftingSay, { kind: 'drawn' }>, units: UnitChoice): string {
  const seam = edit.do === 'sew' ? say.board.seams.find((s) => s.name === say.made.seam) : undefined;
  const apart = seam ? Math.abs(seam.lengths[0] - seam.lengths[1]) : 0;
  const line = seam
    ? words.sewn(seam.name, seam.sides[0], seam.sides[1], apart < 5e-5 ? words.same : words.apart(sizeText(apart, units)))
    : sentence(nameOf(edit));
  return [line, ...say.notes].join(' ');
}
