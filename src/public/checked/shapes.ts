/** Records that one function of the library makes and another takes, by the parts that tell them. */
import type { Bag, Fault } from '../../bag/types.ts';
import { figure, flag, type Kind, like, list, maybe, mismatch, numbers, orNull, text, word, work } from './check.ts';

export const record = (what: string): Kind => like(what, {});
export const records = (what: string, least = 0): Kind => list(record(what), `a list: ${what}`, least);

export const bag = (): Kind => {
  const what = 'a bag as parseBag() returns it',
    part = records(what);
  return like(what, { name: text(what), panels: part, seams: part, straps: part, options: part, stances: part });
};

export const draft = (): Kind => {
  const what = 'a draft as draftPanels() returns it',
    some = list(() => [], what);
  return like(what, { panels: records(what), seams: records(what), boxed: some, lines: some });
};

export const mesh = (): Kind => {
  const what = 'a mesh as meshPanels() returns it';
  return like(what, {
    vertexCount: figure('', { least: 0, whole: true }),
    triVerts: numbers(what, 3),
    triPanel: numbers(what),
    triFlat: numbers(what, 6),
    panelNames: list(text(what), what),
    panelVerts: records(what),
    outlines: records(what),
  });
};

/** A run of one end of the band. */
export const run = (): Kind => {
  const what = 'a run as preview() returns it in `runs`';
  return like(what, {
    band: band(),
    status: text(what),
    measures: record(what),
    panels: records(what),
    nudge: record(what),
    inward: record(what),
    positions: numbers(what, 3),
  });
};

export const result = (): Kind => {
  const what = 'a result as preview() returns it';
  return like(what, {
    bag: text(what),
    option: text(what),
    stance: text(what),
    massKg: figure('kg', { least: 0 }),
    settings: record(what),
    stacks: records(what),
    seams: records(what),
    mesh: mesh(),
    drafted: numbers(what, 3),
    runs: list(run(), `${what}: a list of runs`, 1),
    verdict: record(what),
  });
};
export const results = (): Kind => list(result(), 'a list of results as preview() returns them, at least one', 1);

export const band = (): Kind => word(() => ['low', 'mid', 'high']);
export const wanted = (): Kind => word(() => ['slouchy', 'soft', 'structured', 'rigid']);
export const four = (unit: string): Kind => {
  const kind = numbers(`four numbers, ${unit}`, 4);
  return (v, path) => ((Array.isArray(v) || ArrayBuffer.isView(v)) && (v as ArrayLike<unknown>).length === 4 ? kind(v, path) : kind(null, path));
};
export const points = (): Kind => numbers('positions, 3 numbers a point, m', 3);

export const laminate = (): Kind =>
  like('a laminate as layUp() returns it', {
    arealMass: figure('kg/m2', { over: 0 }),
    thickness: figure('m', { over: 0 }),
    bending: four('N*m'),
    inPlane: four('N/m'),
    angle: figure('rad'),
  });

export const trace = (): Kind => {
  const what = 'what the results come from: { bagDigest, bagFile, files }';
  return like(what, { bagDigest: orNull(text(what)), bagFile: maybe(text(what)), files: maybe(list(text(what), what)) });
};

export const style = (): Kind => like('how words are set off: { strong, faint }', { strong: work('text -> text'), faint: work('text -> text') });

export const strap = (): Kind => {
  const what = "a strap of a bag's `straps`";
  return like(what, {
    name: text(what),
    width: figure('m', { over: 0 }),
    length: figure('m', { over: 0 }),
    layers: figure('', { over: 0 }),
    anchors: records(what, 2),
  });
};

export const axis = (): Kind => {
  const what = "an axis of a plan's `axes`";
  return like(what, { name: text(what), kind: word(() => ['words', 'figures']), unit: text(what), values: orNull(list(() => [], what)), drawn: flag });
};

export const plan = (): Kind => {
  const what = 'a plan as planRuns() returns it';
  return like(what, {
    format: text(what),
    bagDigest: text(what),
    axes: list(axis(), what),
    samples: orNull(record(what)),
    bands: list(band(), what, 1),
    edgeLength: figure('m', { over: 0 }),
    runs: figure('', { least: 0, whole: true }),
  });
};

export const plannedRun = (): Kind => {
  const what = 'a run as runPlan() tells it';
  return like(what, {
    run: figure('', { least: 0, whole: true }),
    plan: text(what),
    values: record(what),
    option: text(what),
    stance: text(what),
    word: orNull(text(what)),
    reason: text(what),
    heightKept: orNull(figure('share')),
    margin: orNull(figure('')),
    bands: record(what),
  });
};
export const plannedRuns = (): Kind => list(plannedRun(), 'a list of runs as runPlan() tells them');

/** A flat sheet of cloth for a test. */
export const cloth = (): Kind => {
  const what = 'a sheet as isotropic() and presetCloth() have it';
  return like(what, { arealMass: figure('kg/m2', { over: 0 }), bending: four('N*m'), inPlane: four('N/m') });
};

/** Positions and the mesh that they are of. */
export const fits = (positions: ArrayLike<number>, count: number, path: string): readonly Fault[] =>
  positions.length === 3 * count ? [] : mismatch(path, positions.length, `${3 * count} numbers: 3 for each point of the mesh`);

export const optionOf = (of: Pick<Bag, 'options'>, name: string | undefined): readonly Fault[] => {
  const names = of.options.map((o) => o.name);
  return name === undefined ? [] : word(() => names)(name, 'optionName');
};

export const indexOf = (index: number | undefined, count: number, path: string): readonly Fault[] =>
  index === undefined || index < count ? [] : mismatch(path, index, `a number below ${count}`);
