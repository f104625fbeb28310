import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Core, core } from '../../src/cli/core.ts';
import { ran as run } from './desk.ts';

const demo = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));

/** The demo tote in a stiff sheet (which hangs at once) with a pair of straps; no hung stance of its own. */
const strapped = (change: Record<string, unknown> = {}): string =>
  JSON.stringify({
    ...demo,
    stacks: {
      web: ['web_cotton'],
      sheet: { mass: '1 kg/m2', D11: '2 N.m', D22: '2 N.m', D66: '1 N.m', C11: '1 MN/m', C22: '1 MN/m', C66: '0.4 MN/m' },
    },
    options: { stiff: { 'every panel': 'sheet' } },
    straps: { handle: { width: '25 mm', length: '560 mm', stack: 'web', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored', 'also on': ['back'] } },
    ...change,
  });
const COARSE = ['--option', 'stiff', '--mesh', '30'];

describe('slumpline hang, 3 distances, 3 loads, into a folder', () => {
  let r: Awaited<ReturnType<typeof run>>;
  beforeAll(async () => {
    const flags = ['--anchors', '60-120 mm', '--load', '0-2 kg', '--steps', '3', '--thread', '2.6 lbf', '--spi', '8', '--out', 'kept'];
    r = await run(['hang', 'tote.bag.json', ...COARSE, ...flags], { 'tote.bag.json': strapped() });
  });

  it('exit 0; a table with 1 line for the drawn place and each of 3 distances and 3 loads, in mm and sixteenths', () => {
    expect(r.code).toBe(0);
    for (const at of ['as drawn ', '60 mm (2 3/8 in)', '90 mm (3 9/16 in)', '120 mm (4 3/4 in)', 'empty', '1 kg (2.2 lb)', '2 kg (4.41 lb)'])
      expect(r.out.split('\n').filter((l) => l.startsWith(`  ${at}`))).toHaveLength(1);
    expect(r.out).toContain('Anchors moved, 2 kg (4.41 lb) inside');
    expect(r.out).toMatch(/level .*tilt at most 3 deg, mouth sag at most 5 %/);
    expect(r.out).toContain('Pulls are those of a bag that hangs still');
  });

  it('stitching for reference: 100 mm at 31.2 lbf/in is 546 N, with its source, no promise', () => {
    expect(r.out).toContain('For reference, not a promise: 100 mm of stitching at 8 stitches per inch');
    expect(r.out).toContain('come to 546 N per anchor: stitches x thread strength x 1.5, lockstitch 301');
  });

  it('a strap that states thread and stitch length needs no flags: the same 546 N, in `settle` too, and in result.json as 2 references', async () => {
    const { handle } = JSON.parse(strapped()).straps;
    const sewn = strapped({
      straps: { handle: { ...handle, thread: '2.6 lbf', stitch: '1/8 in' } },
      stances: { hook: { kind: 'hung', from: 'hook', straps: ['handle', 'handle on back'] } },
    });
    const files = { 'tote.bag.json': sewn };
    const hung = await run(['hang', 'tote.bag.json', ...COARSE, '--anchors', '90 mm', '--steps', '1'], files);
    const settled = await run(['settle', 'tote.bag.json', ...COARSE, '--stance', 'hook', '--bands', 'mid', '--out', 'kept'], files);
    for (const { code, out } of [hung, settled]) {
      expect(code).toBe(0);
      expect(out.replace(/\s+/g, ' ')).toContain(
        'For reference, not a promise: 100 mm of stitching at 8 stitches per inch in thread of 11.6 N (2.6 lbf) come to 546 N',
      );
    }
    expect(settled.files['kept/report.html']).toContain('come to 546 N per anchor');
    const { stitching } = JSON.parse(settled.files['kept/result.json']);
    expect(stitching.map((s: { strap: string }) => s.strap)).toEqual(['handle', 'handle on back']);
    // Sewn-products engineering practice: 8 per inch x 2.6 lbf x 1.5 = 31.2 lbf/in; twice round 25 mm squares is 100 mm a patch.
    for (const s of stitching) for (const a of s.anchors) expect(a.strength / 4.4482216152605 / (0.1 / 0.0254)).toBeCloseTo(31.2, 9);
  });

  const pictures = ['0000-g', '0060-mm', '0090-mm', '0120-mm', '1000-g', '2000-g', 'as-drawn'].map((name) => `kept/hung-${name}.svg`);

  it('writes 5 files, a picture a step and nothing else; hang.json holds SI figures of every step', () => {
    expect(Object.keys(r.files).sort()).toEqual([
      'kept/hang.json',
      'kept/hang.svg',
      ...pictures,
      'kept/strap-card.html',
      'kept/strap-corner-a4.svg',
      'kept/strap-corner-letter.svg',
      'tote.bag.json',
    ]);
    expect(r.files['kept/hang.json']).not.toContain('<svg');
    const json = JSON.parse(r.files['kept/hang.json']);
    expect(json.anchors.steps.map((s: { distance: number }) => s.distance)).toEqual([0.06, 0.09, 0.12]);
    expect(json.load.steps.map((s: { load: number }) => s.load)).toEqual([0, 1, 2]);
    expect(json.anchors.load).toBe(2);
    for (const s of json.anchors.steps) for (const key of ['tilt', 'mouthSag', 'drop', 'force', 'inward', 'weight']) expect(s[key], key).toBeTypeOf('number');
    // The bag as drawn, 90 mm from the sides under 2 kg, is hung three times over: one figure.
    expect(json.anchors.drawn.step.force).toBeCloseTo(json.anchors.steps[1].force, 9);
    expect(json.load.steps[2].force).toBeCloseTo(json.anchors.steps[1].force, 9);
    expect(json.stitching.reference.strength).toBeGreaterThan(546);
    expect(json.cautions).toHaveLength(2);
  });

  it('each picture: whole inside its 420 x 460 px, the pulls of hang.json in newtons, the tilt in words, the legs as wide apart as the anchors', () => {
    const { anchors, load } = JSON.parse(r.files['kept/hang.json']);
    const steps = [load.steps[0], ...anchors.steps, ...load.steps.slice(1), anchors.drawn.step];
    const spans = pictures.map((name, i) => {
      const svg = r.files[name];
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
      // Numbers of paths alone: M, L and V with what follows them.
      for (const [, x, y] of svg.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)) {
        expect(Number(x) >= 0 && Number(x) <= 420, `${name}: x ${x}`).toBe(true);
        expect(Number(y) >= 0 && Number(y) <= 460, `${name}: y ${y}`).toBe(true);
      }
      const newtons = [...svg.matchAll(/>([\d.]+) N<\/text>/g)].map((m) => Number(m[1])).sort((a, b) => a - b);
      const forces = steps[i].anchors.map((a: { force: number }) => a.force).sort((a: number, b: number) => a - b);
      expect(newtons).toHaveLength(4);
      newtons.forEach((n, k) => {
        expect(Math.abs(n / forces[k] - 1)).toBeLessThan(0.005);
      });
      const degrees = />hangs plumb<\/text>/.test(svg) ? 0 : Number(/>hangs ([\d.]+) deg off the plumb line<\/text>/.exec(svg)?.[1]);
      expect(Math.abs(degrees - (steps[i].tilt * 180) / Math.PI)).toBeLessThan(0.06);
      const dots = [...svg.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)" r="3"/g)].map((m) => Number(m[1]));
      return Math.max(...dots) - Math.min(...dots);
    });
    // Anchors 60, 90 and 120 mm from the sides of a front 300 mm wide: 180, 120, 60 mm apart on one panel, at one scale in every picture; the other panel's lie
    // off by the same shift each time.
    const [wide, middle, near] = spans.slice(1, 4);
    expect(Math.abs((wide - middle) / (middle - near) - 1)).toBeLessThan(0.05);
  });

  it('hang.svg: 7 plots with their units, axes named, limits and the level range in words', () => {
    const svg = r.files['kept/hang.svg'];
    for (const words of [
      'tilt',
      'deg',
      'mouth sag',
      '% of height',
      'drop',
      'mm',
      'force per anchor',
      'N',
      'base sag',
      'load, kg',
      'distance of the anchors from the side, mm',
    ])
      expect(svg).toContain(`>${words}</text>`);
    expect(svg).toContain('limit 3 deg');
    expect(svg).toContain('limit 5 %');
    expect(svg.match(/<circle /g)).toHaveLength(4 * 3 + 3 * 3);
    const level = JSON.parse(r.files['kept/hang.json']).anchors.level;
    expect(svg.match(/>level [^<]*mm<\/text>/g) ?? []).toHaveLength(level.length);
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('table, plot, card, corner and JSON name 1 place: as drawn, 90 mm in, 120 mm apart on 300 mm', () => {
    // 120 mm lie between a third (100) and a half (150) of the width; 60 mm apart at 120 mm leave no room for a hand, 180 mm at 60 mm are wide.
    const json = JSON.parse(r.files['kept/hang.json']);
    expect([json.recommendation.index, json.recommendation.spacing, json.recommendation.apart]).toEqual([-1, 'usual', 0.12]);
    expect(r.out).toContain('Recommended: the anchors as drawn, where it hangs level.');
    expect(r.out.match(/, recommended$/gm)).toHaveLength(1);
    expect(r.out).toMatch(/as drawn at 90 mm .*level, recommended\n/);
    expect(r.files['kept/hang.svg'].match(/<ellipse /g)).toHaveLength(4);
    expect(r.files['kept/strap-card.html']).toContain('as drawn: level, recommended');
    expect(r.files['kept/strap-corner-a4.svg']).toContain('90 mm (3 9/16 in) from the side');
  });

  it('strap-card.html: distances in mm and in, strap length, drop, force, cautions; 2 like panels of 300 mm drawn once at 1:2, rulers of 50 mm and 2 in', () => {
    const card = r.files['kept/strap-card.html'];
    for (const words of [
      '90 mm (3 9/16 in) from the left',
      '90 mm (3 9/16 in) from the right',
      '25 mm (1 in) from the top',
      '2 x 560 mm (22 1/16 in)',
      'force per anchor',
      'drop',
      // 560 mm, two patches of 25 mm and 25 mm turned under twice.
      '2 x 660 mm (26 in): 560 mm (22 1/16 in) between the tops of the patches',
    ])
      expect(card).toContain(words);
    expect(card).toContain('Test every one with a real load');
    expect(card.match(/1:2 when printed at 100 %/g)).toHaveLength(1);
    expect(card).toContain('Panels front, back, face up');
    expect(card.match(/class="patch"/g)).toHaveLength(2);
    expect(card).toContain('h50M');
    expect(card).toContain('h50.8M');
    expect(card).not.toMatch(/NaN|Infinity|undefined|<script/);
  });

  it('progress names the sweep and the step on stderr', () => {
    for (const words of ['anchors as drawn: ', 'anchors 60 mm, 2 of 3: ', 'load 2 kg, 3 of 3: ', 'wrote kept/hang.json, kept/hang.svg, kept/strap-card.html'])
      expect(r.err).toContain(words);
  });

  it('never says safe, in any of 4 texts', () => {
    for (const text of [r.out, ...Object.entries(r.files).flatMap(([path, t]) => (path.startsWith('kept') ? [t] : []))]) expect(text).not.toMatch(/\bsafe/i);
  });

  it('--json prints hang.json and nothing else; the same run gives the same bytes', async () => {
    const flags = ['--anchors', '90 mm', '--steps', '1', '--json', '--quiet'];
    const one = await run(['hang', 't', ...COARSE, ...flags], { t: strapped() });
    const two = await run(['hang', 't', ...COARSE, ...flags], { t: strapped() });
    expect([one.code, one.err]).toEqual([0, '']);
    expect(JSON.parse(one.out).load).toBeNull();
    expect(two.out).toBe(one.out);
  });
});

describe('slumpline hang refuses', () => {
  it('8 wrong flags told together, exit 2, nothing written', async () => {
    const flags = [
      '--strap',
      'handel',
      '--option',
      'felt',
      '--anchors',
      '120-60 mm',
      '--load',
      '2 litres',
      '--steps',
      '0',
      '--thread',
      'thick',
      '--mesh',
      '900',
      '--out',
      'kept',
    ];
    const { code, out, err, files } = await run(['hang', 't', ...flags], { t: strapped() });
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(/^8 faults; nothing was written/);
    for (const words of [
      'did you mean "handle"?',
      '"felt"',
      '--anchors "120-60 mm"',
      '--load "2 litres"',
      '--steps "0"',
      '--thread "thick"',
      '--thread and --spi',
      '--mesh "900"',
    ])
      expect(err).toContain(words);
    expect(Object.keys(files)).toEqual(['t']);
  });

  it('a bag without straps, exit 2', async () => {
    const { code, err } = await run(['hang', 't'], { t: JSON.stringify(demo) });
    expect(code).toBe(2);
    expect(err).toContain('a bag without straps cannot hang');
  });

  it('--out takes away the pictures of an earlier run that this one does not draw, and nothing else', async () => {
    const old = { anchors: { steps: [{ distance: 0.06 }, { distance: 0.09 }] }, load: null };
    const given = {
      t: strapped(),
      'kept/hang.json': JSON.stringify(old),
      'kept/hung-0060-mm.svg': 'old',
      'kept/hung-0090-mm.svg': 'old',
      'kept/notes.txt': 'mine',
    };
    const { code, files } = await run(['hang', 't', ...COARSE, '--anchors', '90 mm', '--steps', '1', '--quiet', '--out', 'kept'], given);
    expect(code).toBe(0);
    expect(files).not.toHaveProperty(['kept/hung-0060-mm.svg']);
    expect(files['kept/hung-0090-mm.svg']).toContain('<svg');
    expect(files['kept/notes.txt']).toBe('mine');
  });

  it('a strap too short at every step, exit 2 with the reason, nothing written', async () => {
    const straps = { handle: { width: '25 mm', length: '190 mm', stack: 'web', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored' } };
    const text = strapped({ straps, stances: { arm: { kind: 'hung', from: 'shoulder' } } });
    const { code, err, files } = await run(['hang', 't', ...COARSE, '--anchors', '90 mm', '--steps', '1', '--quiet', '--out', 'kept'], { t: text });
    expect(code).toBe(2);
    expect(err).toMatch(/could not be hung at any distance or load; nothing was written\n {2}straps\.handle\.length: got 190 mm; expected at least \d+ mm/);
    expect(Object.keys(files)).toEqual(['t']);
  });

  it('a full disk at the last file leaves nothing half-written, exit 2', async () => {
    const flags = [...COARSE, '--anchors', '90 mm', '--steps', '1', '--quiet', '--out', 'kept'];
    const { code, out, files } = await run(['hang', 't', ...flags], { t: strapped() }, { path: 'kept/strap-card.html.part', code: 'ENOSPC' });
    expect([code, out]).toEqual([2, '']);
    expect(Object.keys(files)).toEqual(['t']);
  });

  it('1 step off the panel is told beside 2 that hang, exit 0', async () => {
    const { code, out } = await run(['hang', 't', ...COARSE, '--anchors', '5-125 mm', '--steps', '3', '--quiet'], { t: strapped() });
    expect(code).toBe(0);
    expect(out).toMatch(/ {2}5 mm \(3\/16 in\) .*not hung/);
    expect(out).toContain('not hung: strap handle: 5 mm from the left puts a patch of 25 mm off panel front');
  });

  it('a step that did not come to rest: exit 3, said in the table, an open square in the plot, not counted as level', async () => {
    const unfinished: Core = {
      ...core,
      previewAnchors: async (bag, o) => {
        const made = await core.previewAnchors(bag, o);
        return { ...made, steps: made.steps.map((s) => ({ ...s, status: 'notConverged', level: false })), level: [] };
      },
    };
    const flags = [...COARSE, '--anchors', '90 mm', '--steps', '1', '--quiet', '--out', 'kept'];
    const { code, out, files } = await run(['hang', 't', ...flags], { t: strapped() }, null, unfinished);
    expect(code).toBe(3);
    expect(out).toMatch(/90 mm \(3 9\/16 in\) .*NOT at rest/);
    expect(out).toContain('Moved, it hangs level at none of the 1 distances tried');
    expect(files['kept/hang.svg']).toContain('open square: not at rest');
  });

  it('stopped half way: exit 130, nothing written', async () => {
    const stopped: Core = { ...core, previewAnchors: (bag, o) => core.previewAnchors(bag, { ...o, onProgress: () => false }) };
    const { code, out, err, files } = await run(['hang', 't', ...COARSE, '--quiet', '--out', 'kept'], { t: strapped() }, null, stopped);
    expect([code, out, err]).toEqual([130, '', 'stopped; nothing was written\n']);
    expect(Object.keys(files)).toEqual(['t']);
  });
});
