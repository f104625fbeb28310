/** What a reader of a bench result has to know that its figures do not say: where theory leaves something out, and which specimen to take instead. */
import { plateRigidity, stripRigidity } from '../material/index.ts';
import { SPECIMENS } from './drape.ts';
import type { Setup, TestName, TestResult } from './result.ts';

/** Tests whose theory is that of a narrow strip bent along its length. */
const STRIPS: readonly TestName[] = ['cantilever', 'heart', 'ring', 'pear', 'standing', 'leaning', 'tube', 'tip', 'board', 'corner'];
/** Drape coefficients, %, outside which another specimen is called for. Source: BS 5058 / ISO 9073-9 (from memory). */
const SPECIMEN_RANGE = [30, 85] as const;

/** How many times stiffer a wide strip is that is kept from curling and twisting than a narrow one that may: D(cut)/B(cut), 1 or more. */
export const heldWideFactor = (setup: Pick<Setup, 'sheet' | 'cut'>): number =>
  plateRigidity(setup.sheet.bending, setup.cut ?? 0) / stripRigidity(setup.sheet.bending, setup.cut ?? 0);

/** Lines of text, none where the figures speak for themselves. Parameters: what was tested; what was read. */
export function notesOn(setup: Pick<Setup, 'sheet' | 'cut'>, r: TestResult): string[] {
  const notes: string[] = [];
  if (r.status !== 'settled') notes.push('it did not come to rest, so the figure above is no reading. Try another length or a finer mesh');
  const wide = heldWideFactor(setup);
  if (STRIPS.includes(r.test) && wide > 1.01)
    notes.push(
      `theory is that of a narrow strip, free to curl across its width and to twist; one that is kept from both is ${wide.toFixed(2)} times as stiff, and a strip of this width lies between`,
    );
  if (r.test === 'on-edge') {
    const slender = r.more.length / r.more.width;
    notes.push(
      `theory is that of a long strip; the clamp keeps the width of this one (length over width ${slender.toFixed(0)}) from warping and adds ${Math.round(60 / slender)} to ${Math.round(85 / slender)} %`,
    );
  }
  if (r.test === 'drape') {
    const [small, , large] = SPECIMENS.map((d) => `${d * 100} cm`);
    if (r.reading < SPECIMEN_RANGE[0] && r.more.diameter > SPECIMENS[0])
      notes.push(`under ${SPECIMEN_RANGE[0]} %: limp cloth, for which the standards call for the ${small} specimen (from memory)`);
    if (r.reading > SPECIMEN_RANGE[1] && r.more.diameter < SPECIMENS[2])
      notes.push(`over ${SPECIMEN_RANGE[1]} %: stiff cloth, for which the standards call for the ${large} specimen (from memory)`);
    if (r.more.crossings > 0) notes.push(`the cloth passes through itself in ${r.more.crossings} places: its folds would touch`);
  }
  return notes;
}
