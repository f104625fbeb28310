import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  type BagMesh,
  cssColour,
  flatCurvature,
  flatMap,
  leadRun,
  MAP_NAMES,
  type MapName,
  mapColours,
  mapPicture,
  parseBag,
  previewBag,
  type SettledMaps,
  scaleOf,
  settledMaps,
  sew,
  stepColours,
  TIGHT_CURVATURE,
  templates,
} from '../../src/index.ts';
import { placeOnPanel, placeOnSeam } from '../../src/report/maps/place.ts';
import { panelPatches } from '../../src/report/maps/surface.ts';

const demo = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
const bag = parseBag({
  ...demo,
  stacks: { ...demo.stacks, web: ['web_cotton'] },
  straps: { handle: { width: '25 mm', length: '560 mm', stack: 'web', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored', 'also on': ['back'] } },
});
const { mesh } = sew(bag, 0.02);
/** Mesh point of a panel nearest to a place on it, m from its lower left corner. */
const nearest = (panel: string, at: readonly [number, number]): [number, number] => {
  const p = mesh.panelNames.indexOf(panel);
  const { verts, flat } = mesh.panelVerts[p]!;
  const far = (i: number) => Math.hypot(flat[2 * i]! - at[0], flat[2 * i + 1]! - at[1]);
  let best = 0;
  for (let i = 1; i < verts.length; i++) if (far(i) < far(best)) best = i;
  return [p, verts[best]!];
};

describe('where on the bag a map points, in words', () => {
  it.each([
    ['front', [0.09, 0.225], 'front, by the left anchor of handle'],
    ['front', [0.21, 0.225], 'front, by the right anchor of handle'],
    ['front', [0.01, 0.02], 'front, low down, left'],
    ['front', [0.15, 0.12], 'front, half way up, middle'],
    ['base', [0.15, 0.05], 'base, in its middle'],
    ['base', [0.15, 0], 'base, by the front'],
    ['base', [0, 0.05], 'base, by the right'],
  ] as const)('%s at %s m: %s', (panel, at, words) => {
    expect(placeOnPanel(bag, mesh, ...nearest(panel, at))).toBe(words);
  });

  it('a point of the seam between front and base is told on the front, whichever side carries it', () => {
    // The base's face looks down, so its right is the front's left.
    const [panel, vertex] = nearest('base', [0.29, 0]);
    const seam = mesh.seamNames.indexOf('A');
    expect(placeOnSeam(bag, mesh, { seam, panel, vertex, value: 1 })).toBe('front, low down, left');
  });
});

describe('scales of the maps', () => {
  const maps = (strain: number, force: number | null) =>
    ({ strain: { largest: { value: strain } }, gap: { reach: 0.02 }, seams: { largest: force === null ? null : { value: force } } }) as unknown as SettledMaps;

  it('strain and force end at the next 1, 2 or 5 over the largest of all options; what is under the floor is not told from nothing', () => {
    const strain = scaleOf('strain', [maps(0.0042, 1), maps(1e-5, 1)], 'metric');
    expect(strain.marks).toEqual(['0 % or shortened', '0.13 %', '0.25 %', '0.38 %', '0.5 %']);
    expect([strain.at(-1), strain.at(0.0025), strain.at(1)]).toEqual([0, 0.5, 1]);
    expect([strain.write(0.0312), strain.write(3e-5)]).toEqual(['3.1 %', 'under 0.01 %']);
    const force = scaleOf('seams', [maps(0, 131), maps(0, null)], 'metric');
    expect(force.marks).toEqual(['0 N/m or pressed', '50 N/m', '100 N/m', '150 N/m', '200 N/m']);
    expect(force.write(131.4)).toBe('131 N/m');
    expect(scaleOf('seams', [], 'metric').top).toBe(1);
  });

  it('the gap ends at 20 mm, dark where it is nothing', () => {
    const gap = scaleOf('gap', [maps(0, 0)], 'inch');
    expect(gap.marks).toEqual(['20 mm (13/16 in) or more', '15 mm', '10 mm', '5 mm', '0 mm: touches']);
    expect([gap.at(0), gap.at(0.005), gap.at(0.03)]).toEqual([1, 0.75, 0]);
  });
});

describe('maps as pictures', () => {
  const spec = { ...demo, options: { board: demo.options['canvas, board, poplin'], canvas: demo.options['canvas and poplin'] } };
  const own = parseBag(spec);
  const results = ['board', 'canvas'].map((option) => previewBag(own, { option, bands: ['mid'], edgeLength: 0.03, skipNudge: true }));
  const maps = results.map((r) => settledMaps({ ...r, run: leadRun(r.runs) }));
  const svgOf = (name: MapName) => mapPicture(name, own, results, maps);

  it.each(MAP_NAMES)('%s: bags, scale and words of both options in one picture that is well-formed XML, the same bytes again', (name) => {
    const svg = svgOf(name);
    expect(svg === svgOf(name)).toBe(true);
    expect(/.{0,60}(NaN|undefined|Infinity).{0,40}/.exec(svg)?.[0]).toBeUndefined();
    const opened = svg.match(/<(?!\/)[a-z]+[^>]*[^/]>/gi)!.length;
    expect(svg.match(/<\/[a-z]+>/gi)).toHaveLength(opened);
    expect(svg).toContain('>found</text>');
  });

  it('strain: every face in a step of the scale, none darker than the step of the largest point', () => {
    const scale = scaleOf('strain', maps, 'metric');
    maps.forEach((m, i) => {
      const { faces } = flatMap('strain', results[i]!.mesh, m, scale);
      const steps = stepColours();
      // A face has the mean of its corners: never darker than the step of the largest point, and no colour from outside the scale.
      const darkest = Math.max(...faces.map((c) => steps.indexOf(c!)));
      const own = Math.min(steps.length - 1, Math.floor(scale.at(m.strain.largest.value) * steps.length));
      expect(darkest).toBeLessThanOrEqual(own);
      expect(Math.min(...faces.map((c) => steps.indexOf(c!)))).toBeGreaterThanOrEqual(0);
      expect(faces).toHaveLength(results[i]!.mesh.triPanel.length);
    });
    expect(svgOf('strain')).toContain(`>${scale.marks[4]}</text>`);
  });

  it("seams: one line an edge, between that edge's own points, in the step of the mean of its two ends", () => {
    const scale = scaleOf('seams', maps, 'metric');
    const steps = stepColours();
    maps.forEach(({ seams }, i) => {
      const { lines } = flatMap('seams', results[i]!.mesh, maps[i]!, scale);
      expect(lines.map((l) => [l.a, l.b])).toEqual(Array.from(seams.edgeSeam, (_, e) => [seams.edgeVerts[2 * e], seams.edgeVerts[2 * e + 1]]));
      const strongest = lines.findIndex((l) => l.width === Math.max(...lines.map((q) => q.width)));
      const mean = (e: number): number => (seams.values[2 * e]! + seams.values[2 * e + 1]!) / 2;
      expect(scale.at(mean(strongest))).toBeCloseTo(Math.max(...lines.map((_, e) => scale.at(mean(e)))), 12);
      expect(steps.indexOf(lines[strongest]!.colour)).toBe(Math.min(steps.length - 1, Math.floor(scale.at(mean(strongest)) * steps.length)));
    });
  });

  it('a cylinder rolled from one panel: every face away from the border in the step of its radius (closed form 1/R)', () => {
    const [R, wide, tall, n] = [0.05, 0.1, 0.1, 24];
    const at = (i: number, j: number): number => i * (n + 1) + j;
    const flat = Float64Array.from(
      { length: 2 * (n + 1) ** 2 },
      (_, k) => (k % 2 === 0 ? wide : tall) * ((k % 2 === 0 ? Math.floor((k >> 1) / (n + 1)) : (k >> 1) % (n + 1)) / n),
    );
    const x = Float64Array.from({ length: 3 * (n + 1) ** 2 }, (_, k) => {
      const [u, v] = [flat[2 * Math.floor(k / 3)]!, flat[2 * Math.floor(k / 3) + 1]!];
      return [R * Math.sin(u / R), v, R * Math.cos(u / R)][k % 3]!;
    });
    const tris = Array.from({ length: n * n }, (_, q) => [Math.floor(q / n), q % n] as const).flatMap(([i, j]) => [
      at(i, j),
      at(i + 1, j),
      at(i + 1, j + 1),
      at(i, j),
      at(i + 1, j + 1),
      at(i, j + 1),
    ]);
    const rolled = {
      triVerts: Uint32Array.from(tris),
      triPanel: new Uint16Array(tris.length / 3),
      panelVerts: [{ verts: Uint32Array.from({ length: (n + 1) ** 2 }, (_, v) => v), flat }],
    } as unknown as BagMesh;
    const { faces } = flatCurvature(rolled, x);
    const colours = mapColours().map(cssColour);
    const wanted = Math.sqrt(1 / R / TIGHT_CURVATURE) * colours.length;
    const inner = (t: number): boolean =>
      [0, 1, 2].every((k) => [Math.floor(tris[3 * t + k]! / (n + 1)), tris[3 * t + k]! % (n + 1)].every((q) => q > 2 && q < n - 2));
    // A step is 1/64 of the scale, 3 % of this radius.
    for (let t = 0; t < faces.length; t++) if (inner(t)) expect(Math.abs(colours.indexOf(faces[t]!) + 0.5 - wanted)).toBeLessThan(1.5);
  });
});

describe('surfaces that are drawn', () => {
  it('a panel sewn to itself (tube, boxed corners) is drawn as it is cut: flat corners of three templates within 1e-6 m of its rest shape', () => {
    const sewnToItself = ['boxed-tote', 'bucket', 'drawstring-pouch'];
    const off = templates()
      .filter(({ name }) => sewnToItself.includes(name))
      .map(({ name, text }) => {
        const { mesh } = sew(parseBag(text), 0.022);
        const worst = panelPatches(mesh).map(({ panel, flat, tris, verts }) => {
          const own = Array.from(mesh.triPanel.keys()).filter((t) => mesh.triPanel[t] === panel);
          return Math.max(
            ...own.flatMap((t, i) =>
              [0, 1, 2].map((k) => {
                const at = tris[3 * i + k]!;
                const same = verts[at] === mesh.triVerts[3 * t + k] ? 0 : Number.POSITIVE_INFINITY;
                return same + Math.hypot(flat[2 * at]! - mesh.triFlat[6 * t + 2 * k]!, flat[2 * at + 1]! - mesh.triFlat[6 * t + 2 * k + 1]!);
              }),
            ),
          );
        });
        return { name, worst: Math.max(...worst) };
      });
    expect(off.filter((o) => o.worst > 1e-6)).toEqual([]);
  });
});
