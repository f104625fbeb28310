/** The bag file of one run: the file asked about with what this run takes written into it. */
import { anchorPlace, type BagDocument, parseBag, parseBagDocument, strapFamily, withParameter, withValue } from '../../bag/index.ts';
import type { Bag, Fault } from '../../bag/types.ts';
import type { Axis, Plan } from '../../report/index.ts';
import { statedMaterial } from './materials.ts';
import { valuesOf } from './plan.ts';
import { findTarget, type Target } from './targets.ts';
import { siOf } from './values.ts';
import { readVary } from './vary.ts';

/** One run: its bag file, and what of it is settled. */
export interface RunOfPlan {
  readonly document: BagDocument;
  readonly option: string;
  readonly stance: string;
  readonly values: Readonly<Record<string, number | string>>;
}

const text = (value: number, unit: string): string => (unit === '' ? String(value) : `${value} ${unit}`);

/** A layer as an object, however it is written. */
const opened = (layer: unknown): Record<string, unknown> => (typeof layer === 'string' ? { material: layer } : (layer as Record<string, unknown>));

type Put = (path: readonly (string | number)[], value: unknown) => void;

/**
 * The runs of a plan, each with its bag file, ready to be settled or kept. Parameters: the source that the plan was made from; the plan. Asserts that they belong together. What
 * a run's values make of the bag is not checked here: parseBag() tells what cannot be.
 */
export function runsOf(source: string | object, plan: Plan): (i: number) => RunOfPlan {
  const { document, bag } = parseBagDocument(source),
    faults: Fault[] = [],
    writtenStances = Object.keys((document.value.stances as object | undefined) ?? {});
  const targets = plan.axes.map((axis) => {
    const [entry] = readVary(`${axis.name}=0`, faults);
    return { axis, target: entry ? findTarget(axis.name, entry.parts, { bag, writtenStances }, faults)?.target : undefined };
  });
  if (faults.length > 0 || targets.some((t) => !t.target)) throw new Error('this plan was made for another bag');
  const values = valuesOf(plan);
  return (i) => {
    const taken = values(i);
    let made = document,
      [option, stance] = [bag.options[0]!.name, bag.stances[0]!.name];
    const put: Put = (path, value) => {
      made = withValue(made, path, value);
    };
    for (const { axis, target } of targets) {
      const value = taken[axis.name]!;
      if (target!.kind === 'option') option = value as string;
      else if (target!.kind === 'stance') stance = value as string;
      else if (target!.kind === 'parameter') made = withParameter(made, target!.name, text(value as number, axis.unit));
      else if (target!.kind === 'anchor' || target!.kind === 'material') continue;
      else write(target!, axis, value as number, made, put);
    }
    // Where an anchor lies is measured on the panels as this run has them.
    for (const { axis, target } of targets)
      if (target!.kind === 'anchor') moveAnchors(target!.strap, text(taken[axis.name] as number, axis.unit), made, bag, put);
    stateMaterials(targets as readonly { axis: Axis; target: Target }[], taken, made, put);
    return { document: made, option, stance, values: taken };
  };
}

/** Bonds, thicknesses, friction and loads: one place each. */
function write(target: Target, axis: Axis, value: number, { value: file }: BagDocument, put: Put): void {
  if (target.kind === 'bond' || target.kind === 'thickness')
    for (const layer of target.layers) {
      const written = (file.stacks as Record<string, unknown[]>)[target.stack]![layer];
      put(['stacks', target.stack, layer], { ...opened(written), [target.kind]: target.kind === 'bond' ? value : text(value, axis.unit) });
    }
  else if (target.kind === 'friction') for (const name of target.stances) put(['stances', name, 'friction'], siOf(value, axis.unit, 'number'));
  else if (target.kind === 'load')
    for (const name of target.stances) {
      const before = (file.stances as Record<string, Record<string, unknown>>)[name]!.load,
        mass = text(value, axis.unit);
      put(['stances', name, 'load'], typeof before === 'object' && before !== null ? { ...before, mass } : mass);
    }
}

/** Both ends of a strap at a distance from the side that they are nearer to, as withAnchorsAt() has it. */
function moveAnchors(name: string, distance: string, made: BagDocument, drawn: Bag, put: Put): void {
  const strap = strapFamily(drawn, name)[0]!,
    form = (made.value.straps as Record<string, Record<string, unknown>>)[name]!;
  (['from', 'to'] as const).forEach((end, e) => {
    const written = form[end];
    if (typeof written !== 'object' || written === null) return;
    const { 'from left': _, 'from right': __, ...rest } = written as Record<string, unknown>,
      side = anchorPlace(drawn, strap, e as 0 | 1).side;
    put(['straps', name, end], { ...rest, [`from ${side}`]: distance });
  });
}

/** Every layer of a varied material gets one of its own gauge that states what is varied. */
function stateMaterials(
  targets: readonly { axis: Axis; target: Target }[],
  taken: Readonly<Record<string, number | string>>,
  made: BagDocument,
  put: Put,
): void {
  const stated = new Map<string, Record<string, number>>();
  for (const { axis, target } of targets) {
    if (target.kind !== 'material') continue;
    const kind = target.property === 'mass' ? 'arealMass' : target.property === 'bending' ? 'bending' : target.property === 'band' ? 'number' : 'inPlane';
    stated.set(target.id, { ...stated.get(target.id), [target.property]: siOf(taken[axis.name] as number, axis.unit, kind) });
  }
  if (stated.size === 0) return;
  const bag = parseBag(made.value),
    names = new Map<string, string>();
  for (const stack of bag.stacks) {
    if (stack.kind !== 'layers') continue;
    stack.layers.forEach((layer, i) => {
      const own = stated.get(layer.material);
      if (!own) return;
      const written = opened((made.value.stacks as Record<string, unknown[]>)[stack.name]![i]),
        key = `${layer.material}\n${layer.thickness}\n${layer.thicknessRange}`,
        name = names.get(key) ?? `${layer.material} of this run${names.size === 0 ? '' : `, ${names.size + 1}`}`,
        join = ['material', 'loose', 'fused', 'bonded'].find((k) => written[k] !== undefined)!;
      if (!names.has(key)) put(['materials', name], statedMaterial(bag, layer, own));
      names.set(key, name);
      put(['stacks', stack.name, i], { ...written, [join]: name });
    });
  }
}
