import type { Stance } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import type { Support } from '../solver/types.ts';
import type { Vec } from './strap-path.ts';

type Hung = Extract<Stance, { kind: 'hung' }>;

/** A hook is two bars that rise from its lowest point at this angle, each this long, m. */
const RISE = Math.PI / 6;
const WIRE = 0.06;
/** Half the breadth of a closed hand, m. Common practice, no source. */
const GRIP = 0.045;

/**
 * Where each strap lies along the bar's axis, m from its middle, from where its ends are (`ends`). A hook draws the straps together, `abreast` apart;
 * two hands share them, those that start lower on the axis for the one and the rest for the other; on a bar or a shoulder each stays over its ends.
 */
export function placesAlong(stance: Hung, ends: readonly number[], abreast: number): number[] {
  if (stance.from === 'hook') return ends.map((_, i) => (i - (ends.length - 1) / 2) * abreast);
  if (stance.from !== 'hands') return [...ends];
  const order = ends.map((_, i) => i).sort((a, b) => ends[a]! - ends[b]! || a - b);
  const first = Math.ceil(ends.length / 2);
  return ends.map((_, i) => {
    const rank = order.indexOf(i);
    const [side, own, of] = rank < first ? [-1, rank, first] : [1, rank - first, ends.length - first];
    return (side * stance.apart) / 2 + (own - (of - 1) / 2) * abreast;
  });
}

/** How the fault of a strap that is too short calls what it does not reach over. */
export const overWhat = (stance: Hung): string => `${stance.from === 'hands' ? 'hands' : `a ${stance.from}`} of ${Math.round(stance.diameter * 1000)} mm`;

/** Height of the bar's middle line at `y` along it, over that at its reference point, m. */
export const heightAlong = (stance: Hung, y: number): number =>
  stance.from === 'hook' ? Math.abs(y) * libm.tan(RISE) : stance.from === 'shoulder' ? -y * libm.tan(stance.slope) : 0;

/** What the straps lie on. A shoulder falls along the axis; its surface meets the start height where the straps are. */
export function barsOf(stance: Hung, at: Vec, axis: Vec, radius: number, offset: number): Support[] {
  const bar = (name: string, from: number, to: number, up: number): Support => {
    const end = (d: number, r: number): Vec => [at[0] + d * axis[0], at[1] + d * axis[1], at[2] + r];
    return { name, sdf: { kind: 'capsule', a: end(from, Math.abs(from) * up), b: end(to, Math.abs(to) * up), radius }, friction: stance.friction, offset };
  };
  if (stance.from === 'hook') {
    const out = WIRE * libm.cos(RISE);
    return [bar('hook', 0, -out, libm.tan(RISE)), bar('hook', 0, out, libm.tan(RISE))];
  }
  if (stance.from === 'hands') {
    const half = stance.apart / 2;
    return [bar('one hand', -half - GRIP, -half + GRIP, 0), bar('other hand', half - GRIP, half + GRIP, 0)];
  }
  if (stance.from === 'bar') return [bar('bar', -1, 1, 0)];
  const fall = libm.tan(stance.slope);
  const a: Vec = [at[0] - 0.3 * axis[0], at[1] - 0.3 * axis[1], at[2] + 0.3 * fall],
    b: Vec = [at[0] + 0.3 * axis[0], at[1] + 0.3 * axis[1], at[2] - 0.3 * fall];
  return [{ name: 'shoulder', sdf: { kind: 'capsule', a, b, radius: radius * libm.cos(stance.slope) }, friction: stance.friction, offset }];
}
