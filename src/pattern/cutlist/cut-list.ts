import { finishedAs } from '../../bag/index.ts';
import type { Bag, BagOption, Point2 } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import { draftPanels } from '../../panels/index.ts';
import { CUT_DEFAULTS, cutPattern } from '../pieces/cut-pattern.ts';
import { WEBBING } from '../pieces/layer-kind.ts';
import { boxOf } from '../pieces/plane.ts';
import { assertStated, type Ranges, rangeFaults } from '../pieces/stated.ts';
import type { CutOptions, Piece, Tape } from '../pieces/types.ts';
import { cordCovers } from './covers.ts';
import { looseParts } from './hardware.ts';
import { ofTrim, trimLengths } from './lengths.ts';
import { materialsOf } from './materials.ts';
import { sewingOrder } from './order.ts';
import { costOf, purchase, threadPurchase } from './prices.ts';
import { threadRows } from './thread.ts';
import type { CutList, ListedLength, ListedPiece, ListOptions } from './types.ts';

/**
 * Common practice, no source: cloth of 1.4 m, seams of 10 stitches per inch, 25 mm of tape beyond a zip's chain, 100 mm of cord to tie. Hides lose 25-35 % to
 * shape and flaws: 30 % where neither the maker nor the shelf says.
 */
export const LIST_DEFAULTS: ListOptions = {
  width: 1.4,
  widths: {},
  gap: 0,
  waste: null,
  stitch: 0.0025,
  zipEnds: 0.025,
  cordEnds: 0.1,
  shelf: null,
  finished: [],
};

const WIDTH = [0.05, 10, ' m'] as const;
const LIST_RANGES: Ranges<'width' | 'gap' | 'waste' | 'stitch' | 'zipEnds' | 'cordEnds'> = {
  width: WIDTH,
  gap: [0, 0.05, ' m'],
  waste: [0, 0.8, ''],
  stitch: [0.0005, 0.02, ' m'],
  zipEnds: [0, 0.2, ' m'],
  cordEnds: [0, 1, ' m'],
};
const widthFaults = (widths: Readonly<Record<string, unknown>>) =>
  Object.keys(widths).flatMap((w) => rangeFaults({ [w]: widths[w] }, { [w]: WIDTH }).map((f) => ({ ...f, path: `widths.${w}` })));

const uprightBox = (piece: Piece): readonly number[] => {
  const turn = Math.PI / 2 - piece.warp;
  return boxOf(piece.cut.map((loop) => loop.map(([x, y]): Point2 => [x * libm.cos(turn) - y * libm.sin(turn), x * libm.sin(turn) + y * libm.cos(turn)])));
};

/** Stacks of stated figures without a thickness: thread and bulk cannot count them. */
function unstatedThickness(bag: Bag, option: BagOption): string[] {
  const used = new Set([...Object.values(option.stacks), ...Object.values(option.regions), ...bag.straps.map((s) => s.stack)]);
  const thin = bag.stacks.filter((s) => s.kind === 'direct' && s.thickness === 0 && used.has(s.name)).map((s) => s.name);
  return thin.length > 0 ? [`no thickness is stated for ${thin.join(', ')}: thread is reckoned as if it had none, which is too little`] : [];
}

/** Straps of webbing and bindings, as the pattern has them; a binding is cut from its cloth, or bought as a webbing. */
const tapeLengths = (tapes: readonly Tape[], o: ListOptions): ListedLength[] =>
  tapes.map((t) => {
    const cloth = t.kind === 'binding' && !WEBBING.test(t.material);
    return { ...t, bought: cloth ? purchase(o.shelf, t.material, { area: t.length * t.width * t.count }) : ofTrim(o.shelf, t) };
  });

/**
 * The cutting list of one option: pieces, what each material comes to (a lay on its roll, sheets, or hide) and costs, lengths and loose parts, thread, masses, sewing
 * order. Same input, same list.
 * Parameters: bag; option (default the first); margins and allowances (cutPattern); what the maker states (ListOptions). Errors: as cutPattern, and BagError for
 * pieces too large for their roll or sheet, each with its path.
 */
export function cutList(asWritten: Bag, optionName?: string, cut: Partial<CutOptions> = {}, stated: Partial<ListOptions> = {}): CutList {
  const o = { ...LIST_DEFAULTS, ...stated };
  assertStated(asWritten, [...rangeFaults(stated, LIST_RANGES), ...widthFaults(o.widths)]);
  const pattern = cutPattern(asWritten, optionName, cut);
  const option = asWritten.options.find((x) => x.name === pattern.option)!;
  const bag = finishedAs(asWritten, option);
  const draft = draftPanels(bag);
  const pieces = pattern.pieces.map((p, i): ListedPiece => {
    const box = uprightBox(p);
    return {
      number: i + 1,
      name: p.name,
      kind: p.kind,
      material: p.material,
      count: p.count,
      mirrored: p.mirrored,
      width: box[2]! - box[0]!,
      height: box[3]! - box[1]!,
      area: p.count * p.area,
      mass: p.count * p.area * p.arealMass,
      notes: p.notes,
    };
  });
  const materials = materialsOf(bag, pattern, o);
  const tapes = [...tapeLengths([...pattern.tapes, ...cordCovers(bag, draft, option)], o), ...trimLengths(bag, draft, o)];
  const parts = looseParts(bag, o.shelf),
    thread = threadRows(bag, draft, option, o),
    threadBought = threadPurchase(o.shelf, thread);
  const { shelf, finished, ...said } = o;
  const sum = (masses: readonly number[]): number => masses.reduce((a, b) => a + b, 0);
  return {
    bag: pattern.bag,
    option: pattern.option,
    pieces,
    materials,
    tapes,
    parts,
    thread,
    threadBought,
    mass: sum([...pieces.map((p) => p.mass), ...tapes.map((t) => t.count * t.mass), ...parts.map((p) => p.count * (p.mass ?? 0))]),
    finished,
    cost: costOf(shelf, materials, tapes, parts, threadBought),
    order: sewingOrder(bag, draft, option, cut.strapTurn ?? CUT_DEFAULTS.strapTurn),
    notes: [...pattern.notes, ...unstatedThickness(bag, option)],
    stated: said,
  };
}
