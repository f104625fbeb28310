import { FIXED_ANGLE_LOAD } from '../../units/index.ts';

/** Above this stand number the strip hangs straight down; solving further only sharpens the bend at the clamp. */
const LARGEST = 2.5;

/**
 * Shape of a level-clamped strip bent by its own weight: `count + 1` points [along, down] in units of the strip's length, from the clamp to the tip.
 * Formula: heavy elastica theta'' = -K (1 - s) cos theta, theta(0) = 0, theta'(1) = 0, theta below horizontal, K = w L^3 / D; solved by shooting from
 * the free tip (bisection on the tip angle, Runge-Kutta 4). standNumber S = L / O, O the 41.5-degree overhang, so K = 8.0042 S^3. S is capped at 2.5.
 * Source: the check value K(41.5 deg) = 8.0042 [computed].
 */
export function bentStrip(standNumber: number, count = 24): (readonly [number, number])[] {
  const K = FIXED_ANGLE_LOAD * Math.min(LARGEST, Math.max(0, standNumber)) ** 3;
  let low = 0;
  let high = Math.PI / 2;
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    const angles = shoot(K, mid);
    if (angles[angles.length - 1] > 0) high = mid;
    else low = mid;
  }
  const angles = shoot(K, (low + high) / 2).reverse();
  const fine: (readonly [number, number])[] = [[0, 0]];
  for (let i = 0; i < STEPS; i++) {
    const theta = (angles[i] + angles[i + 1]) / 2;
    const [x, y] = fine[i];
    fine.push([x + Math.cos(theta) / STEPS, y + Math.sin(theta) / STEPS]);
  }
  return Array.from({ length: count + 1 }, (_, k) => fine[Math.round((k * STEPS) / count)]);
}

const STEPS = 480;

/** Angles from the tip (first) to the clamp (last) for a tip angle; t = 1 - s. */
function shoot(K: number, tip: number): number[] {
  const h = 1 / STEPS;
  const out = [tip];
  let theta = tip;
  let slope = 0;
  const bend = (t: number, a: number) => -K * t * Math.cos(a);
  for (let i = 0; i < STEPS; i++) {
    const t = i * h;
    const a1 = bend(t, theta);
    const a2 = bend(t + h / 2, theta + (h / 2) * slope);
    const a3 = bend(t + h / 2, theta + (h / 2) * (slope + (h / 2) * a1));
    const a4 = bend(t + h, theta + h * (slope + (h / 2) * a2));
    theta += h * slope + ((h * h) / 6) * (a1 + a2 + a3);
    slope += (h / 6) * (a1 + 2 * a2 + 2 * a3 + a4);
    out.push(theta);
  }
  return out;
}
