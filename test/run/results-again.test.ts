/** Results opened again from their file, against the settles that wrote them. */
import { readFileSync } from 'node:fs';
import { BufferAttribute, Mesh, type Scene } from 'three';
import { describe, expect, it } from 'vitest';
import { subjectOfResult } from '../../src/app/line-up/subjects.ts';
import { Picture } from '../../src/app/view/picture.ts';
import type { SharedUniforms } from '../../src/app/view/programs.ts';
import { newBag, parseBag } from '../../src/bag/index.ts';
import type { BagError } from '../../src/bag/types.ts';
import { sha256 } from '../../src/numerics/index.ts';
import { bagTextIn, holdsResults, htmlReport, picture, type ResultsRecord, resultsJson, textReport } from '../../src/report/index.ts';
import type { Result } from '../../src/report/types.ts';
import { openResults, type PreviewOptions, preview, previewSync, settledMaps } from '../../src/run/index.ts';

const demo = (name: string): string => readFileSync(new URL(`../../demos/${name}.bag.json`, import.meta.url), 'utf8');
const quick = { edgeLength: 0.05, skipNudge: true } as const;

const settled = async (text: string, o: PreviewOptions): Promise<Result> => preview(text, o);
const written = (text: string, results: readonly Result[]): string => resultsJson(results, { bagDigest: sha256(text), bagFile: text });

/** Every number of a picture's geometry that is none. */
function strangers(scene: Scene): string[] {
  const out: string[] = [];
  scene.traverse((object) => {
    if (!(object instanceof Mesh)) return;
    for (const [name, a] of Object.entries(object.geometry.attributes))
      if (a instanceof BufferAttribute && !Array.from(a.array).every(Number.isFinite)) out.push(name);
  });
  return out;
}

/** Largest difference of two lists of one length. */
const furthest = (a: Float64Array, b: Float64Array): number =>
  a.length === b.length ? a.reduce((most, v, k) => Math.max(most, Math.abs(v - b[k]!)), 0) : Number.POSITIVE_INFINITY;

/** As much of the page's renderer as geometry asks for. */
const shared = { uScale: { value: null } } as unknown as SharedUniforms;

describe('a results file opened again is what was settled, with nothing settled again', () => {
  it.each<[string, string, PreviewOptions]>([
    ['a standing tote, whole band, nudged', demo('harbour-tote'), { edgeLength: 0.05 }],
    ['a bag hung with 2 kg', demo('market-tote'), { ...quick, stance: 'hung with 2 kg', bands: ['mid'] }],
    ['a bag with things in it', demo('commuter-tote'), { ...quick, stance: 'with things in it', option: 'canvas, board, poplin', bands: ['mid'] }],
    ['a zipped duffel', newBag('barrel-duffel'), { ...quick, stance: 'zip closed', bands: ['mid'] }],
    ['a clamped strip, no verdict', demo('clamped-strip'), { bands: ['low', 'mid'] }],
  ])('%s: the same report and the same file to the byte, places to 0.1 um, a picture of finite numbers', async (_, text, o) => {
    const first = await settled(text, o);
    const file = written(text, [first]);
    const opened = openResults(file);
    const again = opened.results[0]!;
    expect(opened.bag).toEqual(parseBag(text));
    expect(textReport(again)).toBe(textReport(first));
    expect(written(text, [again])).toBe(file);
    // Every end of the band has its shape.
    for (const [k, a] of again.runs.entries()) expect(furthest(a.positions, first.runs[k]!.positions), a.band).toBeLessThan(1e-7);
    const [a, b] = [again, first].map((r) => settledMaps({ ...r, run: r.runs.find((run) => run.band === 'mid')! }));
    // Places to 0.1 um, strains and stresses to five digits.
    expect(Math.max(...a!.strain.values.map((v, p) => furthest(v, b!.strain.values[p]!)))).toBeLessThan(1e-4 * Math.max(b!.strain.largest.value, 1e-6));
    expect(furthest(a!.gap.values, b!.gap.values)).toBeLessThan(1e-6);
    if (b!.seams.largest) expect(furthest(a!.seams.values, b!.seams.values)).toBeLessThan(1e-3 * b!.seams.largest.value);
    expect(a!.gap.by.map((n) => n.name)).toEqual(b!.gap.by.map((n) => n.name));
    expect([...again.triRest]).toEqual([...first.triRest]);
    expect([...again.drafted]).toEqual([...first.drafted]);
    const drawing = picture([again]);
    expect(drawing).not.toContain('NaN');
    expect(drawing.split('<path').length).toBe(picture([first]).split('<path').length);
    for (const r of [first, again]) {
      const { subject, positions } = subjectOfResult({ bag: opened.bag, stance: r.stance }, r);
      let late = 0;
      const drawn = new Picture(subject, shared, () => late++);
      // Stitches and closures come after the first picture.
      const { rows, ends, hems, trimmed } = subject.sewn!;
      const expected = (rows.length + ends.length + hems.length > 0 || trimmed ? 1 : 0) + (subject.closures ? 1 : 0);
      await expect.poll(() => late, { timeout: 20_000 }).toBe(expected);
      if (positions) drawn.show(positions);
      expect(strangers(drawn.scene)).toEqual([]);
      expect([...drawn.frame.half, drawn.frame.height].every(Number.isFinite)).toBe(true);
    }
  });
});

describe('what is not the settled bag is refused with its path, and never read as something else', () => {
  const text = demo('clamped-strip');
  const first = previewSync(text, { bands: ['low', 'mid'] });
  const file = written(text, [first]);
  type Changed = { -readonly [K in keyof ResultsRecord]: ResultsRecord[K] };
  const faults = (change: (record: Changed) => unknown, from = file): BagError['faults'] => {
    const record = JSON.parse(from) as Changed;
    change(record);
    try {
      openResults(JSON.stringify(record, null, 2));
    } catch (error) {
      return (error as BagError).faults;
    }
    return [];
  };

  it('opens from a report as from its file, and its bag file byte for byte', () => {
    const html = htmlReport([first], text, { results: resultsJson([first], { bagDigest: sha256(text) }) });
    const opened = openResults(html);
    expect(textReport(opened.results[0]!)).toBe(textReport(first));
    expect([opened.bagText, bagTextIn(html), bagTextIn(file)]).toEqual([text, text, text]);
    expect([holdsResults(html), holdsResults(file), holdsResults(text), holdsResults(JSON.stringify({ note: file }))]).toEqual([true, true, false, false]);
  });

  it('a file of before, without strains and the shapes of other ends, opens with what it has', () => {
    const record = JSON.parse(file) as Changed;
    const { cloth: _, ends: __, ...old } = record.results[0]!;
    const opened = openResults(JSON.stringify({ ...record, results: [old] }));
    expect(opened.results[0]!.runs.map((r) => [r.band, r.cloth, r.positions.length > 0])).toEqual([
      ['low', null, false],
      ['mid', null, true],
    ]);
    expect(textReport(opened.results[0]!)).toBe(textReport(first));
  });

  it.each<[string, (record: Changed) => unknown, string, RegExp]>([
    [
      'another version of the shape',
      (r) => Object.assign(r, { formatVersion: 1, program: { name: 'slumpline', version: '0.2.0' } }),
      'formatVersion',
      /1, written by version 0\.2\.0/,
    ],
    ['another bag file than was settled', (r) => Object.assign(r, { bagFile: text.replace('"name"', ' "name"') }), 'bagDigest', /[0-9a-f]{64}/],
    ['no bag file', (r) => delete r.bagFile, 'bagFile', /nothing/],
    ['an option that the bag does not have', (r) => Object.assign(r.results[0]!, { option: 'velvet' }), 'results[0].option', /"velvet", written by version/],
    ['another mesh', (r) => Object.assign(r.results[0]!, { vertices: 7 }), 'results[0].vertices', /^7, /],
    ['a mesh that cannot be', (r) => Object.assign(r.results[0]!.settings, { edgeLength: 1e-9 }), 'results[0].settings.edgeLength', /mm/],
    ['a panel without its places', (r) => delete r.results[0]!.positions[Object.keys(r.results[0]!.positions)[0]!], 'results[0].positions.strip', /nothing/],
    [
      'places of another mesh of as many points',
      (r) => {
        Object.values(r.results[0]!.positions)[0]!.flat[0]! += 0.001;
      },
      'results[0].positions.strip.flat',
      /another mesh/,
    ],
    ['a word that its figures do not give', (r) => Object.assign(r.results[0]!.verdict, { word: 'holds' }), 'results[0].verdict.word', /"holds"/],
    ['strains of another mesh', (r) => r.results[0]!.cloth!.strain.pop(), 'results[0].cloth.strain', /figures/],
    ['an end without places of a panel', (r) => Object.assign(r.results[0]!.ends!.low!, { settled: {} }), 'results[0].ends.low.settled.strip', /nothing/],
    ['no run', (r) => Object.assign(r.results[0]!, { bands: {} }), 'results[0].bands', /none/],
  ])('%s', (_, change, path, got) => {
    const found = faults(change);
    expect(found.map((f) => f.path)).toContain(path);
    expect(found.find((f) => f.path === path)!.got).toMatch(got);
  });
});
