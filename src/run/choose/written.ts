/** A choice from a shelf as a bag file writes it, so that it can be put into one as an option. */
import type { Bag, Ease, Layer } from '../../bag/types.ts';
import type { ShelfDocument } from '../../shelf/index.ts';
import { DEGREE } from '../../units/index.ts';

/** Parts of a bag file. Stacks stand under plain keys ("walls", "base"): whoever puts them into a file names them as it has room. */
export interface WrittenChoice {
  /** Materials of the shelf's own that the bag has not, in their written form. */ readonly materials: Readonly<Record<string, unknown>>;
  readonly stacks: Readonly<Record<string, readonly unknown[]>>;
  /** Panel, or "panel/region" -> a key of `stacks`, or the name of a stack that the bag has. */ readonly option: Readonly<Record<string, string>>;
}

/** Twelve figures: what was read from text comes out as it was written. */
const figure = (v: number): number => Number(v.toPrecision(12));
const mm = (m: number): string => `${figure(1000 * m)} mm`;
const easeOf = (e: Ease): string => (e.length > 0 ? mm(e.length) : `${figure(100 * e.share)} %`);

/** A layer in the form of schema-stacks.ts. */
function written(l: Layer, first: boolean): unknown {
  const more = {
    ...(l.thicknessRange
      ? { thickness: `${l.thicknessRange.map((t) => figure(1000 * t)).join('-')} mm` }
      : l.thickness === null
        ? {}
        : { thickness: mm(l.thickness) }),
    ...(l.bond === null ? {} : { bond: l.bond }),
    ...(l.angle === 0 ? {} : { angle: `${figure(l.angle / DEGREE)} deg` }),
    ...(l.ease ? { ease: l.ease.map(easeOf) } : {}),
    ...(l.inSeams ? { 'in seams': l.inSeams } : {}),
    ...(l.inset === undefined ? {} : { inset: mm(l.inset) }),
  };
  if (first) return Object.keys(more).length === 0 ? l.material : { material: l.material, ...more };
  return { [l.join]: l.material, ...more };
}

/**
 * The one option of a bag that bagOfChoice made, as parts of a file. Parsed again, every stack has the layers that were settled.
 * Parameters: the bag that was asked about; the bag made of it; the shelf's document, whose own materials are copied as they are written there.
 */
export function writtenChoice(bag: Bag, made: Bag, shelf: ShelfDocument): WrittenChoice {
  const own = (shelf.value.materials ?? {}) as Readonly<Record<string, unknown>>;
  const [option] = made.options;
  const stacks: Record<string, readonly unknown[]> = {},
    materials: Record<string, unknown> = {};
  const keyOf = (name: string): string => {
    const stack = made.stacks.find((s) => s.name === name);
    if (stack?.kind !== 'layers' || bag.stacks.some((s) => s.name === name)) return name;
    const key = name.slice(name.indexOf(': ') + 2);
    stacks[key] ??= stack.layers.map((l, i) => written(l, i === 0));
    for (const { material } of stack.layers)
      if (made.materials.some((m) => m.id === material) && !bag.materials.some((m) => m.id === material))
        materials[material] = own[material] ?? own[material.replace(/ \(shelf\)$/, '')];
    return key;
  };
  const entries = [...Object.entries(option!.stacks), ...Object.entries(option!.regions)].map(([part, name]) => [part, keyOf(name)] as const);
  return { materials, stacks, option: Object.fromEntries(entries) };
}
