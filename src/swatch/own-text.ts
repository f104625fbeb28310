/** A swatch's material as text that goes into a bag file: the material itself and, with a bias strip, a stack with all four rigidities. */
import type { Three } from '../bag/types.ts';
import { fromStrips, materialBands } from '../material/index.ts';
import { bendingLength, OZ_PER_YD2 } from '../units/index.ts';
import { cornerText } from './corner-reading.ts';
import type { SwatchMaterial } from './reading.ts';

const round = (v: number, digits: number): number => Number(v.toPrecision(digits));
const written = (three: Three, size: number, unit: string): string[] => three.map((v) => `${round(v / size, 4)} ${unit}`);

/** Where the figures come from, in one line for the report. */
export function sourceOf(s: SwatchMaterial): string {
  const tests = s.directions.map((d) => `${d.direction} ${d.count} x ${d.methods.join(' and ')}`).join(', ');
  return `${s.readings.fused ? 'fused swatch' : 'my swatch'}: ${tests}; mass to ${round(100 * s.massError, 2)} %`;
}

/**
 * `{ materials: { ID: ... } }`, to be laid into a bag file (`{ ...file, ...ownMaterialForm(m) }` where that has no materials yet): mass, thickness where measured, low / mid / high overhang at 41.5 deg along warp and weft (whatever
 * the test was: an overhang says the same as its rigidity, and is what a maker can check). With a fitting bias strip also a `stacks` entry "NAME, twist
 * measured" in full figures, its stiffness in the plane taken from the preset `like`. Returns plain JSON data; paste both into a bag file.
 */
export function ownMaterialForm(s: SwatchMaterial): { materials: Record<string, unknown>; stacks?: Record<string, unknown> } {
  const { readings } = s;
  const along = (name: 'warp' | 'weft') => s.directions.find((d) => d.direction === name) as SwatchMaterial['directions'][number];
  const mass = `${round(s.arealMass * 1000, 5)} g/m2`;
  const thickness = readings.thickness === null ? {} : { thickness: `${round(readings.thickness * 1000, 3)} mm` };
  const source = sourceOf(s);
  const materials = {
    [readings.id]: {
      name: readings.name,
      like: readings.like,
      mass,
      ...thickness,
      overhang: { warp: written(along('warp').overhang, 1e-3, 'mm'), weft: written(along('weft').overhang, 1e-3, 'mm') },
      source,
    },
  };
  const like = materialBands(readings.like);
  if (s.bending === null || like === null) return { materials };
  const [D11, D22, D12, D66] = s.bending.map((v) => `${round(v * 1e6, 4)} uN.m`);
  const [C11, C22, C12, C66] = fromStrips(like.inPlane[1], like.inPlane[1], like.poisson, like.shear[1]).map((v) => `${round(v, 4)} N/m`);
  const stack = { mass, ...thickness, D11, D22, D12, D66, C11, C22, C12, C66, source: `${source}; in the plane as ${like.name}` };
  return { materials, stacks: { [`${readings.id} with its twist`]: stack } };
}

/** The result in a maker's words: figures, what limits them, and what to do about it. Returns lines of text. */
export function swatchText(s: SwatchMaterial): string[] {
  const gsm = s.arealMass * 1000;
  const lines = [
    `${s.readings.name}: ${round(gsm, 4)} g/m2 (${round(s.arealMass / OZ_PER_YD2, 3)} oz/yd2), to ${round(100 * s.massError, 2)} %`,
    ...s.directions.map((d) => {
      const [low, mid, high] = d.rigidity.map((B) => round(B * 1e6, 3));
      const [from, , to] = d.overhang.map((o) => round(o * 1000, 3));
      return `  ${d.direction.padEnd(5)} ${mid} uN·m (${low} to ${high}), bending length ${round(bendingLength(d.rigidity[1], s.arealMass) * 1000, 3)} mm, overhang ${round(d.overhang[1] * 1000, 3)} mm (${from} to ${to}), ${d.count} ${d.count === 1 ? 'reading' : 'readings'}`;
    }),
  ];
  if (s.bending) lines.push(`  twist ${round(s.bending[3] * 1e6, 3)} uN·m, from the bias strip`);
  if (s.corner) lines.push(...cornerText(s.corner));
  if (s.readings.fused) lines.push('  measured as the finished, fused stack: use it as one layer, without interfacing of its own');
  return [...lines, ...s.warnings.map((w) => `  note: ${w}`)];
}
