import { finishedAs, optionNamed } from '../../bag/index.ts';
import type { Bag } from '../../bag/types.ts';
import { BagError } from '../../bag/types.ts';
import { draftPanels } from '../../panels/index.ts';
import { countedTogether } from './alike.ts';
import { edgesCut } from './extras.ts';
import { allowanceFaults } from './fits.ts';
import { joinedLoops, joinedPanels } from './joined.ts';
import { layerPieces } from './layers.ts';
import { notchesOf } from './notches.ts';
import { assertStated, type Ranges, rangeFaults } from './stated.ts';
import { strapsCut } from './straps.ts';
import { stretchesOf } from './stretches.ts';
import type { CutOptions, LayerKind, Pattern, Piece, Stretch } from './types.ts';

/** Common practice, no source: interfacing ends 3-6 mm inside the stitch line, boards a little inside it; an open edge of a lining or facing has a usual 10 mm, a cloth strap's raw edges are turned in as much. */
export const CUT_DEFAULTS: CutOptions = { interfacingMargin: 0.003, boardMargin: 0.003, openAllowance: 0.01, strapTurn: 0.01 };

const CUT_RANGES: Ranges<keyof CutOptions> = {
  interfacingMargin: [0, 0.03, ' m'],
  boardMargin: [0, 0.03, ' m'],
  openAllowance: [0, 0.05, ' m'],
  strapTurn: [0, 0.05, ' m'],
};

const ORDER: readonly LayerKind[] = ['shell', 'facing', 'strap', 'lining', 'interfacing', 'foam', 'board'];

/** Every piece for itself, before alike ones are counted together; with what else cutPattern tells. Parameters and errors: as cutPattern. */
export function allPieces(asWritten: Bag, optionName: string | undefined, cut: Partial<CutOptions>): Pattern {
  const o = { ...CUT_DEFAULTS, ...cut };
  assertStated(asWritten, rangeFaults(cut, CUT_RANGES));
  const option = optionNamed(asWritten, optionName);
  const bag = finishedAs(asWritten, option);
  const draft = draftPanels(bag);
  const stretches = new Map<number, readonly (readonly Stretch[])[]>();
  const own = (p: number): readonly (readonly Stretch[])[] => {
    const known = stretches.get(p);
    if (known) return known;
    const made = stretchesOf(bag, draft, p, o.openAllowance);
    stretches.set(p, made);
    return made;
  };
  const groups = joinedPanels(bag, draft, option);
  const faults = groups.flatMap((group) => allowanceFaults(joinedLoops(draft, group, own)));
  if (faults.length > 0) throw new BagError(faults);
  const joined = new Set(groups.flatMap((g) => g.seams));
  const notches = notchesOf(draft, (i) => joined.has(bag.seams[i]!.name));
  const straps = strapsCut(bag, o);
  const edges = edgesCut(bag, draft, option, own, o);
  const pieces: Piece[] = [...groups.flatMap((group) => layerPieces({ bag, draft, option, group, own, notches, o })), ...edges.pieces, ...straps.pieces];
  const raw = bag.panels.flatMap((panel, p) => {
    const bare = own(p)
      .flat()
      .filter((s) => s.use.kind === 'raw')
      .map((s) => s.run.edge);
    return bare.length > 0 ? [`${panel.name}: ${[...new Set(bare)].join(', ')} cut on the line, no allowance: no seam and no finish is stated there`] : [];
  });
  return { bag: bag.name, option: option.name, pieces, tapes: [...straps.tapes, ...edges.tapes], notes: raw };
}

/**
 * Everything that is cut for one option of a bag: pieces by layer, each with its cut line, stitch line and marks, and lengths of tape. Panels that a fold
 * joins in the same stack are one piece. Metres.
 * Parameters: bag; name of the option (default the first); margins and allowances that the file does not state.
 * Errors: BagError with every allowance that its curve or cut-out has no room for, and the largest that fits; for an
 * unknown option, and for margins out of range, each with its path.
 */
export function cutPattern(bag: Bag, optionName?: string, cut: Partial<CutOptions> = {}): Pattern {
  const made = allPieces(bag, optionName, cut);
  return { ...made, pieces: ORDER.flatMap((kind) => countedTogether(made.pieces.filter((p) => p.kind === kind))) };
}
