/** What a name of a plan stands for in a bag: a parameter, a bond, a material's rigidity, the place of an anchor, ... */
import { LIMITS, nearestWord, oneOf, strapNames } from '../../bag/index.ts';
import type { Bag, Fault, Parameter } from '../../bag/types.ts';
import { bandOf, MATERIAL_PROPERTIES, type MaterialProperty, materialsOf } from './materials.ts';
import type { Figures } from './values.ts';

/** Where a value goes. */
export type Target =
  | { readonly kind: 'option' | 'stance' }
  | { readonly kind: 'parameter'; readonly name: string }
  | { readonly kind: 'bond' | 'thickness'; readonly stack: string /** From the face, 0 first. */; readonly layers: readonly number[] }
  | { readonly kind: 'material'; readonly id: string; readonly property: MaterialProperty }
  | { readonly kind: 'anchor'; readonly strap: string }
  | { readonly kind: 'friction' | 'load'; readonly stances: readonly string[] };

/** A target with the figures it takes; null of options and stances, which are words. */
export interface Found {
  readonly target: Target;
  readonly figures: Figures | null;
}

const plain = (kind: Figures['kind'], min: number, max: number, usual: string | null = null): Figures => ({
  kind,
  usual,
  min,
  max,
  byRatio: false,
  band: null,
});

/** Units that a written parameter may end in, the longer before what it ends in. */
const LENGTH_UNITS = ['mm', 'cm', 'um', 'in', 'ft', 'yd', 'm'] as const;
const STANCE_KINDS = ['friction', 'load'] as const;

/** The bag's file as far as names are looked up in it, beside the bag. */
export interface Sources {
  readonly bag: Bag;
  /** Names under "stances" in the file; none where it leaves them to the program. */ readonly writtenStances: readonly string[];
}

/** What a name stands for; null after its fault, with the nearest name there is. */
export function findTarget(name: string, parts: readonly string[], s: Sources, faults: Fault[]): Found | null {
  const [first, middle, last] = parts as [string, string | undefined, string | undefined];
  const refuse = (expected: string): null => {
    faults.push({ path: `vary.${name}`, got: JSON.stringify(name.slice(0, 80)), expected });
    return null;
  };
  if (middle === undefined) {
    if (first === 'option' || first === 'stance') return { target: { kind: first }, figures: null };
    if (first === 'friction') return ofStances('friction', s.writtenStances, s, refuse);
    return parameter(first, s.bag, refuse);
  }
  if (first === 'parameter' && last === undefined) return parameter(middle, s.bag, refuse);
  if (first === 'anchor' && last === undefined) {
    if (!strapNames(s.bag).includes(middle)) return refuse(oneOf('a strap of this bag', middle, strapNames(s.bag)));
    return { target: { kind: 'anchor', strap: middle }, figures: plain('length', 0, LIMITS.length) };
  }
  if (last === undefined) return refuse(oneOf('a name this can vary', first, namesOf(s)));
  if (first === 'stack') return ofStack(middle, last, s.bag, refuse);
  if (first === 'material') return ofMaterial(middle, last, s.bag, refuse);
  if (first === 'stance') {
    if (middle !== '*' && !s.writtenStances.includes(middle)) return refuse(oneOf("a stance of the bag's file, or *", middle, s.writtenStances));
    const what = STANCE_KINDS.find((k) => k === last);
    return what ? ofStances(what, middle === '*' ? s.writtenStances : [middle], s, refuse) : refuse(oneOf('friction or load of a stance', last, STANCE_KINDS));
  }
  return refuse(oneOf('a name this can vary', first, namesOf(s)));
}

type Refuse = (expected: string) => null;

/** Every name that could have been meant, for the nearest one. */
const namesOf = ({ bag }: Sources): string[] => [
  ...bag.parameters.map((p) => p.name),
  'option',
  'stance',
  'friction',
  ...bag.stacks.map((k) => `stack.${k.name}.bond`),
  ...materialsOf(bag).map((id) => `material.${id}.bending`),
  ...strapNames(bag).map((n) => `anchor.${n}`),
];

function parameter(name: string, bag: Bag, refuse: Refuse): Found | null {
  const found = bag.parameters.find((p) => p.name === name);
  if (!found) {
    const words = ['option', 'stance', 'friction'],
      near = nearestWord(name, [...bag.parameters.map((p) => p.name), ...words]),
      list = [...bag.parameters.map((p) => p.name), ...words, 'stack.NAME.bond', 'material.ID.bending', 'anchor.STRAP'];
    return refuse(near === null ? `a parameter of this bag or another name: ${list.join(', ')}` : `a parameter of this bag (did you mean "${near}"?)`);
  }
  const figures = figuresOf(found);
  return figures === null
    ? refuse('a parameter that is a length, an angle or a number; this one is neither')
    : { target: { kind: 'parameter', name }, figures };
}

/** Figures without a unit are in the one that the file writes the parameter in. */
function figuresOf({ kind, text }: Parameter): Figures | null {
  if (kind === 'other') return null;
  if (kind === 'number') return plain('number', -1e6, 1e6, '');
  if (kind === 'angle') return plain('angle', -2 * Math.PI, 2 * Math.PI, 'deg');
  const unit = LENGTH_UNITS.find((u) => new RegExp(`[\\d.\\s]${u}\\s*$`).test(text)) ?? 'mm';
  return plain('length', -LIMITS.length, LIMITS.length, unit);
}

function ofStack(middle: string, last: string, bag: Bag, refuse: Refuse): Found | null {
  const [, quoted, open, place] = /^(?:"([^"]*)"|(.*?))(?:\[([^\]]*)\])?$/.exec(middle) as unknown as [
      string,
      string | undefined,
      string | undefined,
      string | undefined,
    ],
    name = quoted ?? open ?? '',
    stack = bag.stacks.find((k) => k.name === name);
  if (!stack)
    return refuse(
      oneOf(
        'a stack of this bag',
        name,
        bag.stacks.map((k) => k.name),
      ),
    );
  if (stack.kind !== 'layers') return refuse('a stack of layers; this one states the figures of the whole');
  const known = stack.layers.map((l, i) => ({ ...l, i })),
    chosen = place === undefined ? known : known.filter((l) => String(l.i + 1) === place.trim() || l.material === place.trim()),
    list = `${known.map((l) => `${l.i + 1} (${l.material})`).join(', ')}`;
  if (chosen.length === 0) return refuse(`a layer of ${JSON.stringify(name)} by its number from the face or its material: ${list}`);
  if (last === 'bond') {
    const fused = chosen.filter((l) => l.join === 'fused' && l.i > 0);
    if (fused.length === 0)
      return refuse(`a fused layer, which alone has a bond; ${JSON.stringify(name)} has ${known.map((l) => `${l.material} (${l.join})`).join(', ')}`);
    return { target: { kind: 'bond', stack: name, layers: fused.map((l) => l.i) }, figures: plain('number', 0, 1, '') };
  }
  if (last === 'thickness') {
    if (chosen.length > 1) return refuse(`one layer: stack.${name}[1].thickness; it has ${list}`);
    return { target: { kind: 'thickness', stack: name, layers: [chosen[0]!.i] }, figures: plain('thickness', 1e-6, LIMITS.thickness) };
  }
  return refuse(oneOf('bond or thickness of a stack', last, ['bond', 'thickness']));
}

function ofMaterial(id: string, last: string, bag: Bag, refuse: Refuse): Found | null {
  const used = materialsOf(bag);
  if (!used.includes(id)) return refuse(oneOf('a material in the stacks of this bag', id, used));
  const property = MATERIAL_PROPERTIES.find((p) => p === last);
  if (!property) return refuse(oneOf(`${MATERIAL_PROPERTIES.join(', ')} of a material; thickness is stack.NAME.thickness`, last, MATERIAL_PROPERTIES));
  return { target: { kind: 'material', id, property }, figures: bandOf(bag, id, property) };
}

function ofStances(what: 'friction' | 'load', names: readonly string[], { bag, writtenStances }: Sources, refuse: Refuse): Found | null {
  if (writtenStances.length === 0) return refuse('stances written in the file; this one leaves them to the program');
  const stances = names.filter((n) => bag.stances.some((k) => k.name === n && k.kind !== 'held'));
  if (stances.length === 0) return refuse('a stance that stands or hangs; a held bag has none');
  return { target: { kind: what, stances }, figures: what === 'friction' ? plain('number', 0, LIMITS.friction, '') : plain('mass', 0, LIMITS.mass) };
}
