import { builtIn, finishedAs, isLeather } from '../../bag/index.ts';
import type { Bag, BagOption, Fault, Point2 } from '../../bag/types.ts';
import { BagError } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import { draftPanels } from '../../panels/index.ts';
import { formatMm } from '../../units/index.ts';
import { cutPattern } from '../pieces/cut-pattern.ts';
import { boxOf } from '../pieces/plane.ts';
import type { CutOptions, Pattern, Piece } from '../pieces/types.ts';
import { type Lay, type NestItem, nest } from './nest.ts';
import { sewingOrder } from './order.ts';
import { threadRows } from './thread.ts';
import type { CutList, ListedMaterial, ListedPiece, ListOptions } from './types.ts';

/** Common practice, no source: cloth of 1.4 m, hides that lose 25-35 % to shape and flaws (the middle), seams of 10 stitches per inch. */
export const LIST_DEFAULTS: ListOptions = { width: 1.4, widths: {}, gap: 0, waste: 0.3, stitch: 0.0025 };

/** Boards, felts and foams have no grain that a cutter keeps: they may lie across as well. */
const ANY_WAY = /^(nwboard|leatherboard|fibreboard|pp\d|ldpe|hdpe|pefoam|foam|felt|cork)/;

/** A lay may be this much longer than area over width before its reason is told. */
const FAIR = 1.25;

const uprightBox = (piece: Piece): readonly number[] => {
  const turn = Math.PI / 2 - piece.warp;
  return boxOf(piece.cut.map((loop) => loop.map(([x, y]): Point2 => [x * libm.cos(turn) - y * libm.sin(turn), x * libm.sin(turn) + y * libm.cos(turn)])));
};

function reasonOf(lay: Lay): string | null {
  if (lay.length <= FAIR * (lay.area / lay.width)) return null;
  if (lay.length <= FAIR * lay.bound)
    return `the longest piece alone takes ${formatMm(lay.bound)} of the length, and the rest does not fill the width beside it`;
  return `${lay.laid.length} pieces of these sizes leave gaps that no other piece of this material fills`;
}

/** What each material comes to. Errors: BagError naming every piece that is wider than its roll, with the narrowest that would do. */
function materialsOf(bag: Bag, pattern: Pattern, o: ListOptions): ListedMaterial[] {
  const faults: Fault[] = [];
  const names = [...new Set(pattern.pieces.map((p) => p.material))];
  const listed = names.map((material): ListedMaterial => {
    const own = pattern.pieces.filter((p) => p.material === material);
    const area = own.reduce((sum, p) => sum + p.count * p.area, 0);
    const common = {
      material,
      name: own[0]!.materialName,
      pieces: own.reduce((sum, p) => sum + p.count, 0),
      area,
      mass: own.reduce((sum, p) => sum + p.count * p.area * p.arealMass, 0),
    };
    if (isLeather(bag, material)) return { ...common, lay: null, items: [], reason: null, hide: area / (1 - o.waste) };
    const width = o.widths[material] ?? o.widths[own[0]!.materialName] ?? o.width;
    const items: NestItem[] = own.map((p) => ({
      name: p.name,
      number: pattern.pieces.indexOf(p) + 1,
      cut: p.cut,
      warp: p.warp,
      count: p.count,
      mirrored: p.mirrored,
    }));
    const lay = nest(items, width, { gap: o.gap, anyWay: ANY_WAY.test(builtIn(bag, material)) });
    if (!('laid' in lay)) {
      for (const w of lay)
        faults.push({
          path: `pieces.${w.name} (${common.name})`,
          got: `a roll of ${formatMm(width)}`,
          expected: `a roll at least ${formatMm(w.width)} wide with the grain along it, or a panel in two parts`,
        });
      return { ...common, lay: null, items, reason: null, hide: null };
    }
    return { ...common, lay, items, reason: reasonOf(lay), hide: null };
  });
  if (faults.length > 0) throw new BagError(faults);
  return listed;
}

/** Stacks of stated figures without a thickness: thread and bulk cannot count them. */
function unstatedThickness(bag: Bag, option: BagOption): string[] {
  const used = new Set([...Object.values(option.stacks), ...Object.values(option.regions), ...bag.straps.map((s) => s.stack)]);
  const thin = bag.stacks.filter((s) => s.kind === 'direct' && s.thickness === 0 && used.has(s.name)).map((s) => s.name);
  return thin.length > 0 ? [`no thickness is stated for ${thin.join(', ')}: thread is reckoned as if it had none, which is too little`] : [];
}

/**
 * The cutting list of one option: pieces, what each material comes to (a lay on its roll, or hide), tape, thread, masses, sewing order. Same input, same list.
 * Parameters: bag; option (default the first); margins and allowances (cutPattern); widths, gap, waste and stitch length. Errors: as cutPattern, and BagError for
 * pieces wider than their roll.
 */
export function cutList(asWritten: Bag, optionName?: string, cut: Partial<CutOptions> = {}, stated: Partial<ListOptions> = {}): CutList {
  const o = { ...LIST_DEFAULTS, ...stated };
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
  return {
    bag: pattern.bag,
    option: pattern.option,
    pieces,
    materials: materialsOf(bag, pattern, o),
    tapes: pattern.tapes,
    thread: threadRows(bag, draft, option, o),
    mass: pieces.reduce((sum, p) => sum + p.mass, 0) + pattern.tapes.reduce((sum, t) => sum + t.count * t.mass, 0),
    order: sewingOrder(bag, draft, option),
    notes: [...pattern.notes, ...unstatedThickness(bag, option)],
    stated: o,
  };
}
