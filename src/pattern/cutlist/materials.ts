/** What each material of a pattern comes to: a lay on its roll or its sheets, or hide. */
import { builtIn, isLeather } from '../../bag/index.ts';
import type { Bag, Fault } from '../../bag/types.ts';
import { BagError } from '../../bag/types.ts';
import { HIDE_WASTE, itemFor, type Sold } from '../../shelf/index.ts';
import { formatMm } from '../../units/index.ts';
import type { Pattern } from '../pieces/types.ts';
import { type Lay, type NestItem, nest } from './nest.ts';
import { purchase } from './prices.ts';
import type { ListedMaterial, ListOptions } from './types.ts';

/** Boards, felts and foams have no grain that a cutter keeps: they may lie across as well. */
const ANY_WAY = /^(nwboard|leatherboard|fibreboard|pp\d|ldpe|hdpe|pefoam|foam|felt|cork)/;

/** A lay may be this much longer than area over width before its reason is told. */
const FAIR = 1.25;

function reasonOf(lay: Lay): string | null {
  if (lay.length <= FAIR * (lay.area / lay.width)) return null;
  const { boundBy, bound } = lay;
  if (lay.length <= FAIR * bound && boundBy === 'longest')
    return `the longest piece alone takes ${formatMm(bound)} of the length, and the rest does not fill the width beside it`;
  if (lay.length <= FAIR * bound && boundBy === 'side by side')
    return `its pieces do not all go side by side, and over one another they take at least ${formatMm(bound)}`;
  return `${lay.laid.length} pieces of these sizes leave gaps that no other piece of this material fills`;
}

interface Roll {
  readonly width: number;
  readonly sheet?: number;
}

/** The roll or sheet a material comes on: as stated for it, else as the shelf has it, else the usual width. */
function rollOf(o: ListOptions, material: string, name: string): Roll {
  const sold: Sold | null | undefined = o.shelf ? itemFor(o.shelf.items, material)?.sold : null;
  const own = o.widths[material] ?? o.widths[name];
  if (sold?.by === 'sheet') return { width: own ?? sold.width, sheet: sold.length };
  return { width: own ?? (sold?.by === 'metre' ? sold.width : o.width) };
}

const rollWords = ({ width, sheet }: Roll): string =>
  sheet === undefined ? `a roll of ${formatMm(width)}` : `a sheet of ${formatMm(width)} x ${formatMm(sheet)}`;

/** What each material comes to. Errors: BagError naming every piece that is too large for its roll or sheet, with the smallest that would do. */
export function materialsOf(bag: Bag, pattern: Pattern, o: ListOptions): ListedMaterial[] {
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
      lay: null,
      items: [],
      reason: null,
      hide: null,
      waste: null,
      sheets: null,
      bought: null,
    };
    if (isLeather(bag, material)) {
      const sold = o.shelf && itemFor(o.shelf.items, material)?.sold;
      const waste = o.waste ?? (sold?.by === 'area' ? sold.waste : HIDE_WASTE);
      const hide = area / (1 - waste);
      return { ...common, hide, waste, bought: purchase(o.shelf, material, { area, toBuy: hide }) };
    }
    const roll = rollOf(o, material, common.name);
    const items: NestItem[] = own.map((p) => ({
      name: p.name,
      number: pattern.pieces.indexOf(p) + 1,
      cut: p.cut,
      warp: p.warp,
      count: p.count,
      mirrored: p.mirrored,
    }));
    const lay = nest(items, roll.width, {
      gap: o.gap,
      anyWay: ANY_WAY.test(builtIn(bag, material)),
      ...(roll.sheet === undefined ? {} : { sheet: roll.sheet }),
    });
    if (!('laid' in lay)) {
      for (const w of lay)
        faults.push({
          path: `pieces.${w.name} (${common.name})`,
          got: rollWords(roll),
          expected:
            roll.sheet === undefined
              ? `a roll at least ${formatMm(w.width)} wide with the grain along it, or a panel in two parts`
              : `a sheet of at least ${formatMm(w.width)} x ${formatMm(w.height)}, or a panel in two parts`,
        });
      return common;
    }
    const sheets = lay.sheets ?? null;
    return {
      ...common,
      lay,
      items,
      reason: reasonOf(lay),
      sheets,
      bought: purchase(o.shelf, material, { area, length: lay.length, toBuy: lay.length * lay.width, ...(sheets === null ? {} : { sheets }) }),
    };
  });
  if (faults.length > 0) throw new BagError(faults);
  return listed;
}
