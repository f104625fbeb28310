import type { Stance } from '../bag/types.ts';
import type { Support } from '../solver/types.ts';
import type { Vec } from './strap-path.ts';

type Hung = Extract<Stance, { kind: 'hung' }>;

/** A hook is two bars that rise from its lowest point at this angle, each this long, m. */
export const RISE = Math.PI / 6;
const WIRE = 0.06;

/** Height of the bar's middle line at `y` along it, over that at its reference point, m. */
export const heightAlong = (stance: Hung, y: number): number =>
  stance.from === 'hook' ? Math.abs(y) * Math.tan(RISE) : stance.from === 'shoulder' ? -y * Math.tan(stance.slope) : 0;

/** What the straps lie on. A shoulder falls along the axis; its surface meets the start height where the straps are. */
export function barsOf(stance: Hung, at: Vec, axis: Vec, radius: number, offset: number): Support[] {
  const bar = (name: string, from: number, to: number, up: number): Support => {
    const end = (d: number, r: number): Vec => [at[0] + d * axis[0], at[1] + d * axis[1], at[2] + r];
    return { name, sdf: { kind: 'capsule', a: end(from, Math.abs(from) * up), b: end(to, Math.abs(to) * up), radius }, friction: stance.friction, offset };
  };
  if (stance.from === 'hook') {
    const out = WIRE * Math.cos(RISE);
    return [bar('hook', 0, -out, Math.tan(RISE)), bar('hook', 0, out, Math.tan(RISE))];
  }
  if (stance.from === 'bar') return [bar('bar', -1, 1, 0)];
  const fall = Math.tan(stance.slope);
  const a: Vec = [at[0] - 0.3 * axis[0], at[1] - 0.3 * axis[1], at[2] + 0.3 * fall],
    b: Vec = [at[0] + 0.3 * axis[0], at[1] + 0.3 * axis[1], at[2] - 0.3 * fall];
  return [{ name: 'shoulder', sdf: { kind: 'capsule', a, b, radius: radius * Math.cos(stance.slope) }, friction: stance.friction, offset }];
}
