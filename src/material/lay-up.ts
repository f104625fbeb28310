/** Stacks to laminates: what each panel and region of a bag weighs and how stiff it is in one option. */

import { easeShares, hasLengths, type Laid, onPanel } from '../bag/index.ts';
import { type Bag, BagError, type Four, type Layer, type Panel, type Stack } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { formatAngle, formatGsm, formatMm, trimmed } from '../units/index.ts';
import { bondedRigidity } from './bond.ts';
import { leadersOf, massFactor, type Shares, slackInPlane, tautOf } from './ease.ts';
import { type Sheet, sheetOf, weakest } from './layers.ts';
import { plus, type Sym, turned, ZERO } from './orthotropy.ts';
import { massWhenStiffer } from './stiffened.ts';
import { sharesTogether } from './together.ts';
import type { BagLaminates, Band, Evidence, Laminate } from './types.ts';

/** Bond of a fused layer whose file states none: half way from loose to one piece. An estimate; a cantilever test of the fused strip settles it. */
export const DEFAULT_BOND = 0.5;

interface Placed {
  readonly layer: Layer;
  readonly sheet: Sheet;
  readonly bond: number;
  /** Ease along its warp and weft; 0, 0 for a layer cut to the panel. */ readonly ease: Shares;
}

const bondOf = (layer: Layer): number => (layer.join === 'bonded' ? 1 : layer.join === 'fused' ? (layer.bond ?? DEFAULT_BOND) : 0);

/** Layers that hang together: each loose layer starts a new group. */
function groups(placed: readonly Placed[]): Placed[][] {
  const out: Placed[][] = [];
  placed.forEach((p, i) => {
    if (i === 0 || p.layer.join === 'loose') out.push([p]);
    else out[out.length - 1].push(p);
  });
  return out;
}

/** Bending and in-plane stiffness of all layers in axes turned by `axes` from the panel's grain. */
function stiffness(placed: readonly Placed[], axes: number): { bending: Sym; inPlane: Sym } {
  let bending = ZERO;
  let inPlane = ZERO;
  for (const group of groups(placed)) {
    const layers = group.map((p) => ({
      bending: p.sheet.bending,
      inPlane: p.sheet.inPlane,
      thickness: p.sheet.thickness,
      angle: p.layer.angle - axes,
      bond: p.bond,
      ease: p.ease,
    }));
    bending = plus(bending, bondedRigidity(layers));
    for (const l of layers) inPlane = plus(inPlane, turned(slackInPlane(l.inPlane, l.ease), l.angle));
  }
  return { bending, inPlane };
}

/** Mean rigidity of a stack in the axes of its shell, N*m: of warp and weft. */
function along(placed: readonly Placed[]): number {
  const { bending } = stiffness(placed, placed[0].layer.angle);
  return Math.sqrt(bending[0] * bending[1]);
}

const skewness = (m: Sym): number => libm.hypot(m[4], m[5]) / Math.sqrt(m[0] * m[1]);

/**
 * Axes in which the stack is orthotropic, rad from the grain: those of the shell when every layer lies square to it; otherwise the axes with the least
 * bend-twist coupling, found by scanning (the solver takes no coupling terms, and what is left out is told in the story).
 */
function bestAxes(placed: readonly Placed[]): number {
  const shell = placed[0].layer.angle;
  const square = placed.every((p) => Math.abs(libm.sin(2 * (p.layer.angle - shell))) < 1e-9);
  if (square) return shell;
  let best = shell;
  let least = skewness(stiffness(placed, shell).bending);
  for (let step = 1; step < 180; step++) {
    const axes = shell + (step * Math.PI) / 360;
    const left = skewness(stiffness(placed, axes).bending);
    if (left < least - 1e-12) {
      best = axes;
      least = left;
    }
  }
  return best;
}

const four = (m: Sym): Four => [m[0], m[1], m[3], m[2]];

function joinWords(p: Placed): string {
  if (p.layer.join === 'fused') return ` (fused, bond ${trimmed(p.bond, 2)}${p.layer.bond === null ? ', an estimate' : ''})`;
  return ` (${p.layer.join})`;
}

function easeWords({ ease: [warp, weft] }: Placed): string {
  if (warp === 0 && weft === 0) return '';
  const share = (e: number): string => `${trimmed(100 * e, 1)} %`;
  return ` with ${warp === weft ? share(warp) : `${share(warp)} along, ${share(weft)} across`} ease, slack until stretched that far`;
}

function story(placed: readonly Placed[], evidence: Evidence, arealMass: number, thickness: number, left: number, axes: number): string {
  const layers = placed.map((p, i) => {
    // "vegetable-tanned 2.0 mm (5 oz)" is the preset's gauge, not that of this layer.
    const name = p.layer.thickness === null ? p.sheet.name : `${p.sheet.name.replace(/\s+\d+(\.\d+)? mm\b.*$/, '')} ${formatMm(p.layer.thickness, 2)}`;
    return `${name}${i === 0 ? '' : joinWords(p)}${easeWords(p)}`;
  });
  const basis = [...new Set(placed.map((p) => p.sheet.basis))].filter((b) => b !== evidence).join('; ');
  const core = placed.some((p, i) => p.sheet.softCore && placed.length > 1 && (p.bond > 0 || (placed[i + 1]?.bond ?? 0) > 0));
  return [
    `${layers.join(' + ')}: ${formatGsm(arealMass)}, ${formatMm(thickness, 2)}`,
    basis === '' ? evidence : `${evidence} (${basis})`,
    core ? 'the soft layer shears in the real stack, so this is on the stiff side' : '',
    left > 0.01 ? `axes turned ${formatAngle(axes, 0)}, bend-twist coupling of ${trimmed(left * 100, 0)} % left out` : '',
  ]
    .filter((s) => s !== '')
    .join('; ');
}

function layered(bag: Pick<Bag, 'materials'>, stack: Extract<Stack, { kind: 'layers' }>, band: Band, on: Laid): Laminate {
  const leaders = leadersOf(stack.layers);
  const ease = (i: number): Shares => easeShares(leaders[i], on);
  const placedAt = (share: (material: string) => number): Placed[] =>
    stack.layers.map((layer, i) => ({ layer, sheet: sheetOf(bag, layer, band, share(layer.material)), bond: i === 0 ? 0 : bondOf(layer), ease: ease(i) }));
  const shares = band === 'mid' ? null : sharesTogether([...new Set(stack.layers.map((l) => l.material))], (share) => along(placedAt(share)));
  const placed = placedAt((material) => shares?.get(material) ?? 1);
  const axes = bestAxes(placed);
  const { bending, inPlane } = stiffness(placed, axes);
  const arealMass = placed.reduce((sum, p) => sum + p.sheet.arealMass * massFactor(p.ease), 0);
  const thickness = placed.reduce((sum, p) => sum + p.sheet.thickness, 0);
  const guessed = placed.some((p, i) => i > 0 && p.layer.join === 'fused' && p.layer.bond === null);
  const taut = placed.flatMap((p) => tautOf(p.sheet.inPlane, p.ease, p.layer.angle - axes));
  const evidence = weakest([...placed.map((p) => p.sheet.evidence), ...(guessed ? (['estimate'] as const) : [])]);
  return {
    stack: stack.name,
    arealMass,
    thickness,
    bending: four(bending),
    inPlane: four(inPlane),
    angle: axes,
    ...(taut.length > 0 ? { taut } : {}),
    evidence,
    story: story(placed, evidence, arealMass, thickness, skewness(bending), axes),
  };
}

/** A swatch of no stated size: an ease by length is no share of it. */
const BAND_NAMES: readonly Band[] = ['low', 'mid', 'high'];
const SWATCH: Laid = { grain: 0, reach: () => Number.POSITIVE_INFINITY };

/**
 * Laminate of one stack at one end of the material band. Loose layers add up; bonded ones share a neutral plane (bond.ts); fused ones lie between:
 * loose + bond (bonded - loose). At an end of the band each material goes its share of the way (together.ts). Layers are listed from the face inward. A direct stack is the same in every band: it was stated, not looked up.
 * Asserts that its materials exist. Parameters: the bag's own materials; stack; band; what it is laid on, where that has a size.
 */
export function laminateOf(bag: Pick<Bag, 'materials'>, stack: Stack, band: Band, on: Laid = SWATCH): Laminate {
  if (stack.kind === 'layers') return layered(bag, stack, band, on);
  const evidence: Evidence = stack.source !== null && /\bswatch\b/i.test(stack.source) ? 'your swatch' : 'stated';
  const { name, arealMass, thickness, bending, inPlane, angle } = stack;
  return {
    stack: name,
    arealMass,
    thickness,
    bending,
    inPlane,
    angle,
    evidence,
    story: `stated figures${stack.source === null ? '' : ` (${stack.source})`}: ${formatGsm(arealMass)}`,
  };
}

/** The laminate with all of its bending times a factor; grows: and the mass of what stiffens it. */
function stiffer(l: Laminate, factor: number, grows: boolean): Laminate {
  const [d11, d22, d12, d66] = l.bending;
  return { ...l, ...(grows ? { arealMass: massWhenStiffer(l, factor) } : {}), bending: [factor * d11, factor * d22, factor * d12, factor * d66] };
}

/**
 * laminates[panel][region] of one option; region 0 is the panel's own stack, r the panel's region r - 1.
 * Parameters: bag; name of the option; band, which end of the material bands. Errors: BagError for an option the bag does not have, and for a band that is none.
 */
export function layUp(bag: Bag, optionName: string, band: Band): BagLaminates {
  const option = bag.options.find((o) => o.name === optionName);
  if (!option)
    throw new BagError([
      { path: 'option', got: JSON.stringify(optionName) ?? 'nothing', expected: `one of ${bag.options.map((o) => `"${o.name}"`).join(', ')}` },
    ]);
  if (!BAND_NAMES.includes(band)) throw new BagError([{ path: 'band', got: JSON.stringify(band) ?? 'nothing', expected: '"low", "mid" or "high"' }]);
  const made = new Map<string, Laminate>();
  const of = (name: string, panel: Panel): Laminate => {
    const stack = bag.stacks.find((s) => s.name === name);
    if (!stack) throw new Error(`unknown stack "${name}"`);
    const sized = hasLengths(stack);
    const key = sized ? `${name}\n${panel.name}` : name;
    const laminate = made.get(key) ?? laminateOf(bag, stack, band, sized ? onPanel(panel) : SWATCH);
    made.set(key, laminate);
    return laminate;
  };
  return bag.panels.map((panel) => {
    const own = [of(option.stacks[panel.name], panel), ...panel.regions.map((r) => of(option.regions[`${panel.name}/${r.name}`] ?? r.stack, panel))],
      factor = option.bending?.[panel.name] ?? 1;
    return factor === 1 ? own : own.map((l) => stiffer(l, factor, option.bendingMass === 'grows'));
  });
}
