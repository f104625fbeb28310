import type { MaterialBands } from '../index.ts';
import type { Core } from './core.ts';
import { nearest } from './faults.ts';
import { EXIT, Failure, type Io } from './io.ts';

type Three = readonly [number, number, number];

/** `materials [NAME]`: the list, the list of one kind, or one material with its bands, its reasons and its sources. */
export function materials(io: Io, core: Core, name: string | undefined, asJson: boolean): number {
  const all = core.presets();
  const listed = (some: readonly MaterialBands[]): number => {
    io.out(asJson ? core.stableJson(some.map((m) => ({ ...m, ...core.presetNotes(m.id) }))) : list(core, some));
    return EXIT.ok;
  };
  if (name === undefined) return listed(all);
  const wanted = name.toLowerCase();
  const found = all.find((m) => m.id.toLowerCase() === wanted) ?? all.find((m) => m.name.toLowerCase() === wanted);
  // A kind ("leather") is the list of it.
  const kind = all.filter((m) => m.family.toLowerCase() === wanted);
  if (found === undefined && kind.length > 0) return listed(kind);
  if (found === undefined) throw unknown(name, all);
  io.out(asJson ? core.stableJson({ ...found, ...core.presetNotes(found.id) }) : page(core, found));
  return EXIT.ok;
}

function unknown(name: string, all: readonly MaterialBands[]): Failure {
  const near = nearest(name, [...all.map((m) => m.id), ...all.map((m) => m.name)]);
  const found = all.find((m) => m.id === near || m.name === near);
  const hint = found === undefined ? 'see `slumpline materials` for the list' : `did you mean "${found.id}" (${found.name})?`;
  return new Failure(`unknown material "${name}"; ${hint}\n`, EXIT.input);
}

const overhangs = (core: Core, m: MaterialBands): Three => [0, 1, 2].map((i) => core.overhangAtFixedAngle(m.bending[i], m.arealMass[i])) as unknown as Three;

function list(core: Core, all: readonly MaterialBands[]): string {
  const id = Math.max(...all.map((m) => m.id.length));
  const lines: string[] = [];
  let family = '';
  for (const m of all) {
    if (m.family !== family) lines.push(...(family === '' ? [] : ['']), m.family);
    family = m.family;
    const [low, mid, high] = overhangs(core, m).map((o) => Math.round(o * 1000));
    const figures = `${Math.round(m.arealMass[1] * 1000)} g/m2, overhang ${mid} mm (${low}-${high})`;
    lines.push(`  ${m.id.padEnd(id)}  ${figures.padEnd(40)}  [${m.evidence}]  ${m.name}`);
  }
  return `${[...lines, '', 'Overhang: how far a strip of this material alone sticks out over an edge before its tip lies on a line 41.5 deg below level; low-high in brackets.'].join('\n')}\n`;
}

function page(core: Core, m: MaterialBands): string {
  const notes = core.presetNotes(m.id);
  const three = (values: Three, scale: number, unit: string) => `${values.map((v) => Number((v * scale).toPrecision(3))).join(' / ')} ${unit}`;
  return `${[
    `${m.name} (${m.id}), ${m.family}`,
    `low / mid / high [${m.evidence}: ${m.status}]`,
    `  weight       ${three(m.arealMass, 1000, 'g/m2')}`,
    `  thickness    ${three(m.thickness, 1000, 'mm')}`,
    `  bending      ${three(m.bending, 1e6, 'uN·m')}`,
    `  overhang     ${three(overhangs(core, m), 1000, 'mm at 41.5 deg')}`,
    `  warp : weft  ${three(m.stiffOverSoft, 1, '(stiffer over softer)')}`,
    `  in plane     ${three(m.inPlane, 1, 'N/m')}`,
    `  shear        ${three(m.shear, 1, 'N/m')}`,
    ...(notes ? [`why: ${notes.reasoning}`, ...notes.sources.map((s) => `source: ${s}`)] : []),
    m.evidence === 'estimate' ? 'An estimate. Test a strip of your own for a better figure.' : '',
  ]
    .filter((line) => line !== '')
    .join('\n')}\n`;
}
