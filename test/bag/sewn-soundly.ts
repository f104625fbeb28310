/** What every bag that can be cut and sewn must hold; see sewable.ts. */
import { assemble } from '../../src/assembly/assemble.ts';
import { outlineArea } from '../../src/bag/curve.ts';
import { parseBagDocument, printBag } from '../../src/bag/index.ts';
import { layUp, sewnLayers } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { polygonArea } from '../../src/numerics/index.ts';
import { checkPattern } from '../../src/panels/check.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { placePanels } from '../../src/placement/place-panels.ts';
import { allowanceMass } from '../run/allowance-mass.ts';
import { sewable } from './sewable.ts';

export interface Sewn {
  readonly kind: string;
  readonly vertices: number;
  readonly minAngle: number;
  /** Angle of a corner under 40 degrees that alone forces an angle under 20, or null. */ readonly forced: number | null;
  readonly crossings: number;
  /** Largest over the options: mass over the sum of areas times areal mass, less one. */ readonly massError: number;
  readonly ways: string;
  /** What does not hold, in words; empty when all does. */ readonly failures: readonly string[];
}

/** One seeded bag through the house up to its model: identity of printing, angles, crossings, mass. */
export function sewSoundly(seed: number, points = 450): Sewn {
  const { kind, file } = sewable(seed);
  const failures: string[] = [];
  const first = parseBagDocument(JSON.stringify(file));
  const printed = printBag(first.document);
  const again = parseBagDocument(printed);
  if (
    JSON.stringify(again.document.value) !== JSON.stringify(file) ||
    JSON.stringify(again.bag) !== JSON.stringify(first.bag) ||
    printBag(again.document) !== printed
  )
    failures.push('printing');
  const bag = first.bag;
  const draft = draftPanels(bag);
  const found = checkPattern(bag, draft);
  if (found.faults.length > 0) failures.push(`pattern: ${found.faults[0].text}`);
  const area = draft.panels.reduce((sum, p) => sum + p.area, 0);
  const mesh = meshPanels(bag, draft, { edgeLength: Math.sqrt(area / (0.866 * points)) });
  const minAngle = mesh.quality.minAngleDeg;
  // Two sheets sewn together along both edges of a sharp corner may not share its triangle: one of them has the corner cut in two.
  const sharpest = Math.min(...draft.panels.flatMap((p) => p.cornerAngle)) * (180 / Math.PI);
  const forced = sharpest / 2 < 20 && minAngle < 20 ? sharpest : null;
  if (!(minAngle >= 20) && !(forced !== null && minAngle >= 0.95 * (sharpest / 2))) failures.push(`angle ${minAngle.toFixed(1)} deg`);
  const { positions, crossings, ways } = placePanels(bag, draft, mesh);
  if (crossings > 0) failures.push(`${crossings} crossings`);
  let massError = 0;
  for (const option of bag.options) {
    const laminates = layUp(bag, option.name, 'mid');
    const mass = assemble(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid'), positions, bag.stances[0]).mass.reduce((a, b) => a + b, 0);
    const cut = bag.panels.reduce((total, p, i) => {
      const inHole = (r: readonly (readonly [number, number])[]) =>
        p.holes.filter((h) => holds(r, h[0].from)).reduce((sum, h) => sum + Math.abs(outlineArea(h)), 0);
      const parts = p.regions.map((r) => Math.abs(polygonArea(r.outline)) - inHole(r.outline));
      return [draft.panels[i].area - parts.reduce((a, b) => a + b, 0), ...parts].reduce((sum, a, k) => sum + a * laminates[i][k].arealMass, total);
    }, 0);
    massError = Math.max(massError, Math.abs(mass / (cut + allowanceMass(bag, mesh, laminates)) - 1));
  }
  if (!(massError < 1e-9)) failures.push(`mass off by ${massError.toExponential(1)}`);
  return { kind, forced, vertices: mesh.vertexCount, minAngle, crossings, massError, ways: ways.map((w) => w.way).join(), failures };
}

/** Even-odd rule; holes of these bags lie wholly inside a region or wholly outside, or the bag is not generated. */
function holds(polygon: readonly (readonly [number, number])[], [x, y]: readonly [number, number]): boolean {
  let inside = false;
  polygon.forEach(([x0, y0], i) => {
    const [x1, y1] = polygon[(i + 1) % polygon.length];
    if (y0 > y !== y1 > y && x < ((x1 - x0) * (y - y0)) / (y1 - y0) + x0) inside = !inside;
  });
  return inside;
}
