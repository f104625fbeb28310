import { alongWarp } from '../assembly/index.ts';
import { parseBag } from '../bag/index.ts';
import { type Bag, BagError, type Fault } from '../bag/types.ts';
import { layUp } from '../material/index.ts';
import { sha256 } from '../numerics/index.ts';
import {
  bagTextIn,
  judge,
  type LinesRecord,
  leadRun,
  type ResultRecord,
  type ResultsRecord,
  type RunRecord,
  readResults,
  resultsTextIn,
} from '../report/index.ts';
import type { BandRun, ClothState, Result } from '../report/types.ts';
import { EDGE_RANGE, tooFine } from './mesh-size.ts';
import { BANDS, sew } from './scene.ts';

/** Furthest that a flat place may lie from this version's own, m: the file has them to a tenth of a micron. */
const SAME = 1e-6;

/** A results file opened again. */
export interface OpenedResults {
  readonly bag: Bag;
  /** The bag file's text. */ readonly bagText: string;
  readonly results: readonly Result[];
  /** Version of the program that settled them. */ readonly settledBy: string;
}

/**
 * Opens a result.json, or a report.html with its results inside, and the bag file that either holds. Nothing is settled. Throws BagError where the text is neither, for
 * another version of the shape (named with the program that wrote it), where the bag file is missing, is not the one that was settled (SHA-256) or has faults, and for
 * results that do not fit the bag as resultsAgain says.
 */
export function openResults(text: string): OpenedResults {
  const record = readResults(resultsTextIn(text) ?? text);
  const bagText = bagTextIn(text);
  if (bagText === text)
    throw new BagError([{ path: 'bagFile', got: 'nothing', expected: 'results with their bag file inside, as "settle --out" and the page write them' }]);
  const digest = sha256(bagText);
  if (record.bagDigest !== digest)
    throw new BagError([{ path: 'bagDigest', got: JSON.stringify(record.bagDigest), expected: `"${digest}", the SHA-256 of the bag file inside` }]);
  const bag = parseBag(bagText);
  return { bag, bagText, results: resultsAgain(record, bag), settledBy: record.program.version };
}

/**
 * The results that a results file was written from, with nothing settled again: figures as they stand in the file (12 digits), the shape of the run that leads from its
 * places (0.1 um), mesh and drafted shape from the bag as this version meshes it, shapes of the other ends and the strains that maps are made of as far as the file
 * holds them (files of before 0.3.0 do not: `positions` of no points, `cloth` null). `seconds` are none. record: as readResults gives it; bag: the one that was settled, parsed.
 * Throws BagError with every fault: options or stances that the bag does not have, another mesh than this version makes, places that do not fit it, figures that this
 * version judges otherwise. Deterministic.
 */
export function resultsAgain(record: ResultsRecord, bag: Bag): Result[] {
  const faults: Fault[] = [];
  const by = `, written by version ${record.program.version}`;
  const made = record.results.map((r, i) =>
    again(r, bag, (path, got, expected) => {
      faults.push({ path: `results[${i}].${path}`, got: `${got}${by}`, expected });
      return null;
    }),
  );
  if (faults.length > 0) throw new BagError(faults);
  return made.filter((r) => r !== null);
}

type Tell = (path: string, got: string, expected: string) => null;

function again(r: ResultRecord, bag: Bag, tell: Tell): Result | null {
  const named = (list: readonly { readonly name: string }[], what: 'option' | 'stance'): boolean =>
    list.some((o) => o.name === r[what]) || tell(what, JSON.stringify(r[what]), `one of ${list.map((o) => `"${o.name}"`).join(', ')}`) !== null;
  const known = [named(bag.options, 'option'), named(bag.stances, 'stance')];
  const { edgeLength } = r.settings;
  if (!(edgeLength >= EDGE_RANGE.from && edgeLength <= EDGE_RANGE.to) || tooFine(bag, edgeLength) !== null)
    return tell('settings.edgeLength', `${edgeLength * 1000} mm`, 'an edge length that this bag can be meshed with');
  if (known.includes(false)) return null;
  const { mesh, drafted, pattern } = sew(bag, edgeLength);
  const positions = placed(r, mesh, tell),
    cloth = clothAgain(r, mesh, tell),
    ends = endsAgain(r, mesh, tell);
  const runs = BANDS.flatMap((band) => (r.bands[band] ? [runAgain(band, r.bands[band])] : []));
  if (runs.length === 0) return tell('bands', 'none', 'low, mid, high, or some of them');
  if (positions === null || cloth === 'fault' || ends === null) return null;
  const lead = leadRun(runs),
    stance = bag.stances.find((s) => s.name === r.stance)!,
    shown = runs.map((run) => (run === lead ? { ...run, positions, cloth, ...linesAgain(r.lines, run) } : { ...run, ...ends(run) }));
  const verdict = judge(shown, bag.wanted, pattern);
  if (verdict.word !== r.verdict.word || JSON.stringify(verdict.byBand) !== JSON.stringify(r.verdict.byBand))
    return tell('verdict.word', JSON.stringify(r.verdict.word), `"${verdict.word}", as this version judges the same figures`);
  return {
    bag: bag.name,
    option: r.option,
    stance: r.stance,
    ground: (stance.kind === 'standing' && stance.ground) || null,
    vertices: r.vertices,
    settings: r.settings,
    massKg: r.massKg,
    ...(r.parts ? { parts: r.parts as unknown as NonNullable<Result['parts']> } : {}),
    evidence: r.evidence as Result['evidence'],
    stacks: r.stacks as unknown as Result['stacks'],
    seams: r.seams as unknown as Result['seams'],
    ...(r.stitching ? { stitching: r.stitching as unknown as NonNullable<Result['stitching']> } : {}),
    ...(pattern.length > 0 ? { pattern } : {}),
    mesh,
    triRest: alongWarp(bag, mesh, layUp(bag, r.option, 'mid')),
    drafted,
    runs: shown,
    // As it was written: worked out again from 12 digits, its last may be another.
    verdict: { ...verdict, margin: r.verdict.margin ?? Number.NaN },
  };
}

/** 3n places of the mesh's points from those of its panels; null after a fault. */
function placed(r: ResultRecord, mesh: Result['mesh'], tell: Tell): Float64Array | null {
  if (r.vertices !== mesh.vertexCount) return tell('vertices', String(r.vertices), `${mesh.vertexCount}, as this version meshes the bag`);
  for (const [p, name] of mesh.panelNames.entries()) {
    const { verts, flat } = mesh.panelVerts[p]!,
      own = r.positions[name];
    if (own === undefined || own.flat.length !== flat.length || own.settled.length !== 3 * verts.length)
      return tell(`positions.${name}`, own === undefined ? 'nothing' : `${own.settled.length / 3} places`, `${verts.length} places`);
    if (own.flat.some((v, k) => !(Math.abs(v - flat[k]!) < SAME)))
      return tell(`positions.${name}.flat`, 'another mesh', 'the mesh that this version makes of the bag');
  }
  return wholeShape((name) => r.positions[name]!.settled, mesh, 'positions', tell);
}

/** 3n places out of those of its panels; null after a fault. */
function wholeShape(of: (panel: string) => readonly number[] | undefined, mesh: Result['mesh'], path: string, tell: Tell): Float64Array | null {
  const out = new Float64Array(3 * mesh.vertexCount).fill(Number.NaN);
  for (const [p, name] of mesh.panelNames.entries()) {
    const { verts } = mesh.panelVerts[p]!,
      own = of(name);
    if (own?.length !== 3 * verts.length) return tell(`${path}.${name}`, own === undefined ? 'nothing' : `${own.length / 3} places`, `${verts.length} places`);
    verts.forEach((v, i) => {
      out.set(own.slice(3 * i, 3 * i + 3), 3 * v);
    });
  }
  return out.every(Number.isFinite) ? out : tell(path, 'places that are missing', 'a place for every point of the mesh');
}

/** Strains and stresses of the run that leads, for its maps; null where the file has none. */
function clothAgain({ cloth }: ResultRecord, mesh: Result['mesh'], tell: Tell): ClothState | null | 'fault' {
  if (!cloth) return null;
  for (const key of ['strain', 'stress'] as const)
    if (cloth[key].length !== mesh.triVerts.length)
      return tell(`cloth.${key}`, `${cloth[key].length} figures`, `${mesh.triVerts.length}, 3 for each triangle`) ?? 'fault';
  const figures = (list: readonly (number | null)[]): Float64Array => Float64Array.from(list, (v) => numberOr(v, Number.NaN));
  return { strain: figures(cloth.strain), stress: figures(cloth.stress), felt: cloth.felt, touches: cloth.touches as unknown as ClothState['touches'] };
}

/** Shapes and lines of the other ends; null after a fault. */
function endsAgain(r: ResultRecord, mesh: Result['mesh'], tell: Tell): ((run: BandRun) => Partial<BandRun>) | null {
  const shapes = new Map<string, Float64Array>();
  for (const band of BANDS) {
    const end = r.ends?.[band];
    if (!end) continue;
    const shape = wholeShape((name) => end.settled[name], mesh, `ends.${band}.settled`, tell);
    if (shape === null) return null;
    shapes.set(band, shape);
  }
  return (run) => {
    const positions = shapes.get(run.band);
    return positions ? { positions, ...linesAgain(r.ends![run.band]!.lines, run) } : {};
  };
}

/** What JSON has no word for is null there: a number that must be one is none, or without end. */
const numberOr = (v: number | null, otherwise: number): number => v ?? otherwise;

function runAgain(band: BandRun['band'], r: RunRecord): BandRun {
  const { residual, panels, nudge, again: second, corners, contents, contact, ...rest } = r;
  return {
    ...(rest as unknown as BandRun),
    band,
    residual: numberOr(residual, Number.NaN),
    seconds: { setup: 0, settle: 0, nudge: 0 },
    panels: Object.entries(panels).map(([name, p]) => ({ name, ...p }) as unknown as BandRun['panels'][number]),
    nudge: { ...nudge, worstShift: numberOr(nudge.worstShift, Number.POSITIVE_INFINITY) } as BandRun['nudge'],
    ...(second ? { again: { ...second, margin: numberOr(second.margin, Number.NaN) } as NonNullable<BandRun['again']> } : {}),
    ...(corners ? { corners: { ...corners, margin: numberOr(corners.margin, Number.NaN) } as NonNullable<BandRun['corners']> } : {}),
    contents: (contents ?? []) as unknown as BandRun['contents'],
    contact: { ...contact },
    straps: [],
    positions: new Float64Array(0),
    cloth: null,
  };
}

/** Straps and closures as they lie, for drawing. */
const linesAgain = (lines: LinesRecord, run: BandRun): Partial<BandRun> => ({
  straps: lines.straps.map((s) => ({ ...s, line: Float64Array.from(s.line) })),
  ...(run.closures ? { closureLines: lines.closures.map((c) => ({ ...c, lines: c.lines.map((l) => Float64Array.from(l)) })) } : {}),
});
