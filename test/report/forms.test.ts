import { describe, expect, it } from 'vitest';
import { bentStrip, hangingStrip } from '../../src/material/index.ts';
import { htmlReport } from '../../src/report/html.ts';
import { resultJson, resultsJson, stableJson } from '../../src/report/json.ts';
import { meshObj } from '../../src/report/obj.ts';
import { picture } from '../../src/report/picture/picture.ts';
import { fitLines } from '../../src/report/picture/svg.ts';
import { compareText, textReport } from '../../src/report/text.ts';
import { escapeXml, FIXED_ANGLE_LOAD } from '../../src/units/index.ts';
import { strip } from '../measures/shapes.ts';
import { resultOf, runOf, sunk, tote } from './results.ts';

const three = (['low', 'mid', 'high'] as const).map((band, i) => runOf(band, sunk(0.6 + 0.1 * i, 0.02), 0.143));
const slumped = resultOf(three);
const standing = resultOf([runOf('mid', tote.drafted)], 'structured', 'leather <2 mm> & "stiff"', 0.38);

describe('JSON', () => {
  const parsed = JSON.parse(resultJson(slumped));
  it('starts with the promised keys in order, taken from the middle band', () => {
    const keys = ['status', 'residual', 'iterations', 'vertices', 'massKg', 'verdict', 'measures', 'panels', 'marks', 'reactions', 'contact'];
    expect(Object.keys(parsed).slice(0, keys.length)).toEqual(keys);
    expect(Object.keys(parsed.verdict).slice(0, 3)).toEqual(['word', 'reason', 'margin']);
    expect(Object.keys(parsed.measures).slice(0, 1)).toEqual(['heightKept']);
    expect(parsed.measures.heightKept).toBeCloseTo(three[1].measures.heightKept!, 10);
    expect(parsed.panels.front.standNumber).toBeCloseTo(0.24 / 0.143, 10);
    expect(parsed.marks['front rim']).toEqual([0, -0.05, 0.24]);
    expect(parsed.contact).toMatchObject({ crossings: 0, deepestPenetration: 1e-5 });
    const { bands, positions } = parsed.results[0];
    expect(Object.keys(bands)).toEqual(['low', 'mid', 'high']);
    expect(bands.low.measures.heightKept).toBeLessThan(bands.high.measures.heightKept);
    expect(Object.keys(positions)).toEqual([...tote.mesh.panelNames]);
    expect(positions.front.settled).toHaveLength(3 * tote.mesh.panelVerts[0]!.verts.length);
    expect(positions.front.flat).toHaveLength(2 * tote.mesh.panelVerts[0]!.verts.length);
  });
  it('gives the same bytes twice', () => {
    expect(resultJson(resultOf(three))).toBe(resultJson(slumped));
  });
  it('has null for the margin of no verdict and 12 digits at most', () => {
    const none = resultOf([runOf('mid', tote.drafted, 0.3, { status: 'notConverged' })]);
    expect(JSON.parse(resultJson(none)).verdict.margin).toBeNull();
    expect(stableJson({ a: 1 / 3, b: Number.NaN, c: -0, d: [1, 2, 1e-9] })).toBe(
      '{\n  "a": 0.333333333333,\n  "b": null,\n  "c": 0,\n  "d": [1, 2, 1e-9]\n}\n',
    );
  });
  it('of several options lists them in order', () => {
    expect(JSON.parse(resultsJson([slumped, standing])).results.map((o: { option: string }) => o.option)).toEqual([slumped.option, standing.option]);
  });
});

describe('OBJ', () => {
  const text = meshObj(tote.mesh, tote.drafted, 'tote\nf 9 9 9');
  const lines = text.split('\n');
  it('has every vertex once, every triangle once, 5 groups, indices from 1 to n', () => {
    expect(lines.filter((l) => l.startsWith('v '))).toHaveLength(tote.mesh.vertexCount);
    const faces = lines.filter((l) => l.startsWith('f ')).map((l) => l.split(' ').slice(1).map(Number));
    expect(faces).toHaveLength(tote.mesh.triPanel.length);
    expect(lines.filter((l) => l.startsWith('g '))).toEqual(['g front', 'g back', 'g right', 'g left', 'g base']);
    expect(Math.min(...faces.flat())).toBe(1);
    expect(Math.max(...faces.flat())).toBe(tote.mesh.vertexCount);
  });
  it('gives positions back to 1e-7 m', () => {
    const read = lines.filter((l) => l.startsWith('v ')).flatMap((l) => l.split(' ').slice(1).map(Number));
    read.forEach((v, i) => {
      expect(Math.abs(v - tote.drafted[i])).toBeLessThan(1e-7);
    });
  });
});

describe('the drooping strip', () => {
  it('at stand number 1 has its tip 41.5 degrees below the clamp within 0.02', () => {
    const [x, y] = bentStrip(1).at(-1)!;
    expect(Math.abs((Math.atan2(y, x) * 180) / Math.PI - 41.5)).toBeLessThan(0.02);
  });
  it('hardly bends at 0.2 (K / 8 = 0.8 % of its length) and hangs beyond 70 degrees at 4.5', () => {
    expect(Math.abs(bentStrip(0.2).at(-1)![1] - (8.0042 * 0.008) / 8)).toBeLessThan(2e-4);
    const [x, y] = bentStrip(4.5).at(-1)!;
    expect((Math.atan2(y, x) * 180) / Math.PI).toBeGreaterThan(70);
  });
  it('ends where the exact strip of the tests does, to 1e-6 of its length, at stand numbers 0.5, 1 and 2', () => {
    for (const S of [0.5, 1, 2]) {
      const [along, down] = bentStrip(S).at(-1)!;
      const exact = hangingStrip(FIXED_ANGLE_LOAD * S ** 3);
      expect(Math.hypot(along - exact.reach, down - exact.drop), `stand number ${S}`).toBeLessThan(1e-6);
    }
  });
  it('is as long as its strip less what 480 chords cut off an arc: at most K^2 h^2 / 24 = 6e-5', () => {
    const points = bentStrip(1.3, 480);
    const length = points.slice(1).reduce((s, [x, y], i) => s + Math.hypot(x - points[i][0], y - points[i][1]), 0);
    const most = (FIXED_ANGLE_LOAD * 1.3 ** 3) ** 2 / 480 ** 2 / 24;
    expect(most).toBeLessThan(6e-5);
    expect(1 - length).toBeGreaterThan(0);
    expect(1 - length).toBeLessThan(most);
  });
  it('hangs straight down at 20 times its overhang: the tip within 0.15 of its length from under the clamp', () => {
    const points = bentStrip(20);
    expect(points.every((p) => p.every(Number.isFinite))).toBe(true);
    expect(points.at(-1)![0]).toBeLessThan(0.15);
    expect(points.at(-1)![1]).toBeGreaterThan(0.9);
  });
});

describe('the picture', () => {
  it('is one well-formed svg element that names bag, option and verdict', () => {
    const svg = picture([slumped]);
    expect(svg.startsWith('<svg xmlns="http://www.w3.org/2000/svg"')).toBe(true);
    expect(svg).toContain('>slumps<');
    expect(svg).toContain('Harbour tote');
    expect(balanced(svg)).toEqual([]);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });
  it('draws every triangle of the bag once', () => {
    expect(picture([slumped]).match(/<path fill="#[0-9a-f]{6}" d="M/g)).toHaveLength(tote.mesh.triPanel.length);
  });
  it('escapes names from the file', () => {
    const svg = picture([standing]);
    expect(svg).toContain('leather &#60;2 mm&#62; &#38; &#34;stiff&#34;'.replace('2 mm', '2\u00a0mm'));
    expect(balanced(svg)).toEqual([]);
    expect(escapeXml('a\u0000\u0007<b>')).toBe('a&#60;b&#62;');
  });
  it('sets 2, 3 and 4 options side by side at one scale, at most 4', () => {
    for (const n of [2, 3, 4, 6]) {
      const svg = picture(Array.from({ length: n }, (_, i) => (i % 2 === 0 ? slumped : standing)));
      expect(balanced(svg), `${n} options`).toEqual([]);
      expect(svg.match(/class="drafted"/g)).toHaveLength(Math.min(n, 4));
    }
  });
  it('draws a plain strip without a mouth', () => {
    const s = strip(0.2, 0.025);
    const run = { ...runOf('mid', tote.drafted), positions: s.drafted, panels: [], measures: { ...runOf('mid', tote.drafted).measures } };
    const none = Object.fromEntries(Object.keys(run.measures).map((k) => [k, null])) as unknown as typeof run.measures;
    const svg = picture([{ ...resultOf([{ ...run, measures: none }]), mesh: s.mesh, drafted: s.drafted }]);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(balanced(svg)).toEqual([]);
  });
  it('gives the same bytes twice', () => {
    expect(picture([slumped, standing])).toBe(picture([slumped, standing]));
  });
  it('keeps figures and units on one line', () => {
    expect(fitLines('it keeps 100 % of it', 90, 15).every((l) => !l.startsWith('%'))).toBe(true);
  });
});

/** Names of elements that are opened and not closed in order. */
function balanced(svg: string): string[] {
  const open: string[] = [];
  for (const [, close, name, self] of svg.matchAll(/<(\/?)([a-zA-Z]+)(?:"[^"]*"|[^">])*?(\/?)>/g)) {
    if (self === '/') continue;
    if (close === '/') {
      if (open.pop() !== name) return [`</${name}>`];
    } else open.push(name);
  }
  return open;
}

describe('text for the terminal', () => {
  const text = textReport(slumped);
  it('says the verdict, the sentence, low, mid and high, what figures rest on, and the cautions', () => {
    expect(text).toContain('SLUMPS');
    expect(text).toContain('The front gives way first');
    expect(text).toMatch(/low +mid +high +holds at/);
    expect(text).toMatch(/height kept +\d/);
    expect(text).toContain('estimate');
    expect(text).toContain('nothing about strength');
    expect(text).not.toMatch(/\bsafe|NaN|undefined/);
  });
  it('gives the top-edge limit of a 240 mm bag as 12 mm', () => {
    expect(text).toContain('<= 12 mm (1/2 in)');
  });
  it('has no clock times: other seconds, same bytes', () => {
    expect(textReport(resultOf(three.map((r) => ({ ...r, seconds: { setup: 9, settle: 9, nudge: 9 } }))))).toBe(text);
  });
  it('compares options with differences to the first in brackets', () => {
    const both = compareText([slumped, standing]);
    expect(both).toMatch(/weight +102 g \(0.22 lb\) +380 g \(0.84 lb\) \(\+278 g\)/);
    expect(both).toMatch(/verdict +slumps +holds/);
  });
});

describe('the printable page', () => {
  it('holds the picture, the limits with their source, and no script', () => {
    const html = htmlReport([slumped, standing]);
    expect(html.match(/<svg /g)).toHaveLength(1);
    expect(html).toContain('common practice, no source');
    expect(html).not.toMatch(/<script|https?:\/\/(?!www\.w3\.org)/);
    expect(html).not.toContain('<2 mm>');
  });
  it('of 5 options has 3 pictures, two options each, with ids of their own', () => {
    const html = htmlReport([slumped, standing, slumped, standing, slumped]);
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map((m) => m[1]);
    expect(new Set(ids).size).toBe(ids.length);
    expect(html.match(/<svg /g)).toHaveLength(3);
  });
});
