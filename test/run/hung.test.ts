/** A bag on its straps, from file to figures, against statics. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseBag } from '../../src/bag/parse.ts';
import { templates } from '../../src/bag/templates/index.ts';
import { BagError } from '../../src/bag/types.ts';
import { hangingTilt } from '../../src/material/carrying.ts';
import type { BandRun } from '../../src/report/types.ts';
import { prepare, previewBag } from '../../src/run/index.ts';
import { createSystem } from '../../src/solver/index.ts';
import { HUNG_STEPS } from '../../src/solver/rest/hang.ts';
import { pseudoTransient } from '../../src/solver/rest/pseudo-transient.ts';
import { reactions, rest } from '../../src/solver/rest/settle.ts';
import { check } from '../standards/rows.ts';
import { withoutFinishes } from './without-finishes.ts';

type Plain = Record<string, unknown>;
/** The demo tote without its hems: the sums by hand below are those of plain walls. */
const file = (): Plain & { straps: Plain; stances: Plain; stacks: Plain; panels: Plain } =>
  withoutFinishes(JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8')));

/** The demo tote with a pair of straps. */
function strapped(stance: Plain, strap: Plain = {}): Plain {
  const doc = file();
  doc.stacks.web = ['web_cotton'];
  doc.straps = {
    handle: { width: '25 mm', length: '560 mm', stack: 'web', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored', 'also on': ['back'], ...strap },
  };
  doc.stances = { hung: { kind: 'hung', ...stance } };
  return doc;
}

const leather = 'vegetable-tanned leather';
const hang = (doc: Plain, option = leather, skipNudge = true): BandRun =>
  previewBag(parseBag(doc), { option, bands: ['mid'], edgeLength: 0.022, skipNudge }).runs[0]!;

describe('the demo tote in leather, on a level bar', () => {
  const run = hang(strapped({ from: 'bar' })),
    h = run.hung!;

  it('comes to rest at 1e-4 of a vertex weight with 0 crossings', () => {
    expect(run.status).toBe('settled');
    expect(run.contact.crossings).toBe(0);
  });

  it('the bar carries the whole weight within 0.5 %, nothing sideways', () => {
    console.log(`bar ${h.carried[2].toFixed(4)} N, weight ${h.weight.toFixed(4)} N`);
    expect(Math.abs(h.carried[2] / h.weight - 1)).toBeLessThan(0.005);
    expect(Math.hypot(h.carried[0], h.carried[1])).toBeLessThan(0.005 * h.weight);
  });

  it('anchor forces add up to the weight below them within 0.5 %', () => {
    const below = h.straps.flatMap((s) => s.anchors).reduce((sum, a) => sum + a.force[2], 0);
    // The straps above the mouth hang on the bar, not on the bag: each 560 mm less 25 mm at either end, 25 mm wide, 0.9 kg/m2 (web_cotton, middle).
    const straps = run.straps.length * 0.51 * 0.025 * 0.9 * 9.80665;
    console.log(`anchors carry ${below.toFixed(4)} N; weight less straps ${(h.weight - straps).toFixed(4)} N`);
    expect(Math.abs(below / (h.weight - straps) - 1)).toBeLessThan(0.005);
  });

  it('hangs level within 0.1 deg, its legs pull inward as statics says within 2 %', () => {
    expect(h.tilt).toBeLessThan((0.1 * Math.PI) / 180);
    for (const a of h.straps.flatMap((s) => s.anchors)) {
      // Half way up the leg the strap also carries the half of itself that hangs below: 235 mm of 25 mm web at 0.9 kg/m2 from mouth to bar.
      const upright = a.force[2] + 0.5 * 0.235 * 0.025 * 0.9 * 9.80665,
        statics = upright * Math.tan(a.legAngle);
      console.log(`inward pull ${a.inward.toFixed(4)} N, statics ${statics.toFixed(4)} N`);
      expect(Math.abs(a.inward / statics - 1)).toBeLessThan(0.02);
      expect(Math.abs(a.size - Math.hypot(a.peel, a.shear))).toBeLessThan(1e-9);
    }
  });
});

describe('drop of a limp strap over a thin bar: sqrt((S/2)^2 - (w/2)^2), statics of two straight legs', () => {
  it.each([
    [40, 560],
    [90, 560],
    [90, 400],
    [110, 700],
  ])('anchors %d mm in, strap of %d mm: within 3 mm', (inset, length) => {
    const run = hang(strapped({ from: 'bar', diameter: '4 mm' }, { length: `${length} mm`, from: { panel: 'front', 'from left': `${inset} mm` } }));
    // 25 mm of each end are sewn down; between the two mouths' points the strap is S long, and they are w apart.
    const S = length - 50;
    for (const s of run.hung!.straps) {
      const line = run.straps.find((own) => own.name === s.name)!.line,
        [a, b] = [3, line.length - 6].map((i) => [line[i]!, line[i + 1]!]) as [number[], number[]],
        w = 1000 * Math.hypot(b[0]! - a[0]!, b[1]! - a[1]!),
        statics = Math.sqrt((S / 2) ** 2 - (w / 2) ** 2);
      console.log(`${inset} in, ${length} long: drop ${(1000 * s.drop).toFixed(1)} mm, statics ${statics.toFixed(1)} mm`);
      expect(Math.abs(1000 * s.drop - statics)).toBeLessThan(3);
    }
  });
});

describe('the demo tote in leather, its handles in two hands 300 mm apart', () => {
  const run = hang(strapped({ from: 'hands', apart: '300 mm' })),
    h = run.hung!;

  it('comes to rest with 0 crossings; the hands carry the whole weight within 0.5 % and pull apart by nothing on the whole', () => {
    expect(run.status).toBe('settled');
    expect(run.contact.crossings).toBe(0);
    expect(Math.abs(h.carried[2] / h.weight - 1)).toBeLessThan(0.005);
    expect(Math.hypot(h.carried[0], h.carried[1])).toBeLessThan(0.005 * h.weight);
  });

  it('each leg pulls its mouth edge outward as statics says: upright pull times run over rise, within 2 %', () => {
    for (const s of run.straps) {
      const [n, at] = [s.line.length / 3, (i: number) => [0, 1, 2].map((c) => s.line[3 * i + c]!)],
        top = [...Array(n).keys()].reduce((a, i) => (at(i)[2]! > at(a)[2]! ? i : a), 0),
        own = h.straps.find((o) => o.name === s.name)!;
      for (const [e, edge] of [1, n - 2].entries()) {
        const [p, hand] = [at(edge), at(top)],
          force = own.anchors[e]!.force,
          // From where the strap leaves its panel to where it meets the round of the hand, 15 mm and half the web in radius: as high over the
          // hand's middle as the leg leans. The strap's own half weight hangs on the leg's upper half.
          round = 0.0155,
          lean = Math.atan2(Math.abs(hand[0]! - p[0]!) - round, hand[2]! - p[2]! - round),
          rise = hand[2]! - round * (1 - Math.sin(lean)) - p[2]!,
          upright = force[2] + 0.5 * 0.235 * 0.025 * 0.9 * 9.80665,
          statics = (upright * (hand[1]! - p[1]!)) / rise;
        console.log(`${s.name}: outward ${force[1].toFixed(4)} N, statics ${statics.toFixed(4)} N`);
        expect(Math.abs(force[1] / statics - 1)).toBeLessThan(0.02);
      }
    }
  });
});

describe('tilt of a stiff bag hung by one strap from a hook that grips: atan(e / d), statics', () => {
  /** The tote in a stiff sheet, its right end heavier; e and d from the drafted shape and the start of the hook. */
  const hangAskew = (heavier: number) => {
    const doc = file();
    const sheet = (mass: number) => ({ mass: `${mass} kg/m2`, D11: '2 N.m', D22: '2 N.m', D66: '1 N.m', C11: '1 MN/m', C22: '1 MN/m', C66: '0.4 MN/m' });
    doc.stacks = { web: ['web_cotton'], plain: sheet(1), heavy: sheet(heavier) };
    doc.options = { stiff: { 'every panel': 'plain', right: 'heavy' } };
    doc.straps = {
      handle: { width: '25 mm', length: '700 mm', stack: 'web', from: { panel: 'left', 'from left': '50 mm' }, to: { panel: 'right', 'from right': '50 mm' } },
    };
    doc.stances = { hung: { kind: 'hung', from: 'hook', friction: 3 } };
    return hang(doc, 'stiff');
  };

  it.each([2, 4, 8])('right end %d times as heavy: tilt within 0.5 deg', (heavier) => {
    const run = hangAskew(heavier),
      h = run.hung!;
    // Drafted: four walls and base of 300 x 240 x 100 mm; the heavy end moves the centre of mass toward +x.
    const walls = [
      { m: 0.3 * 0.24, x: 0, z: 0.12 },
      { m: 0.3 * 0.24, x: 0, z: 0.12 },
      { m: 0.1 * 0.24, x: -0.15, z: 0.12 },
      { m: 0.1 * 0.24 * heavier, x: 0.15, z: 0.12 },
      { m: 0.3 * 0.1, x: 0, z: 0 },
    ];
    const total = walls.reduce((sum, w) => sum + w.m, 0),
      e = walls.reduce((sum, w) => sum + w.m * w.x, 0) / total,
      z = walls.reduce((sum, w) => sum + w.m * w.z, 0) / total;
    // Legs run from the mouth's ends, 300 mm apart, to the hook: (700 - 2 x 25) / 2 mm each, 25 mm of strap lying on each end panel above its patch.
    const leg = (0.7 - 2 * 0.025) / 2,
      d = 0.24 + Math.sqrt(leg * leg - 0.15 * 0.15) - z,
      expected = Math.atan(e / d);
    const deg = 180 / Math.PI;
    console.log(
      `e/d ${(e / d).toFixed(3)}: tilt ${(h.tilt * deg).toFixed(2)} deg, statics ${(expected * deg).toFixed(2)} deg; residual ${run.residual.toExponential(1)}`,
    );
    expect(run.status).toBe('settled');
    expect(Math.abs(h.tilt - expected) * deg).toBeLessThan(0.5);
  });
  it('the rule itself at e/d = 0.1, 0.2, 0.5', () =>
    check(
      'tilt',
      [0.1, 0.2, 0.5].map((r) => hangingTilt(r, 1)),
      { abs: 1e-12 },
      [0.1, 0.2, 0.5].map(Math.atan),
    ));
});

it('the cloth must not pass a strap from the edge it leaves its panel at: its first and last piece begin at a mesh point of the mouth, within an edge of where it hangs on', () => {
  const { rig, mesh, start } = prepare(parseBag(strapped({ from: 'hook' })), { option: leather, edgeLength: 0.022 });
  const contactEdges = rig.cables!.contactEdges,
    at = (v: number): number[] => [0, 1, 2].map((k) => start[3 * v + k]!);
  const feet = [...contactEdges].filter((v) => v < mesh.vertexCount);
  expect(feet.length).toBe(2 * rig.straps.length);
  for (const { edges, nodes } of rig.straps)
    edges.forEach(({ verts, weights }, e) => {
      const leaves = [0, 1, 2].map((k) => verts.reduce((sum, v, i) => sum + weights[i]! * at(v)[k]!, 0)),
        foot = [...verts].find((v) => feet.includes(v))!;
      expect(Math.hypot(...at(foot).map((c, k) => c - leaves[k]!))).toBeLessThan(0.022);
      expect([...contactEdges].join()).toContain(e === 0 ? `${foot},${nodes[0]}` : `${nodes[nodes.length - 1]},${foot}`);
    });
});

describe('nudges of a hung bag', () => {
  /** At rest, then pulled toward +x by 3 % of what it weighs: the system, and both states. */
  const pulledAside = (stance: Plain) => {
    const scene = prepare(parseBag(strapped({ from: 'hook', friction: 3, ...stance })), { option: leather, edgeLength: 0.03 }),
      sys = createSystem(scene.model, { selfContact: true });
    const { x, formulation } = rest(sys, scene.start),
      aside = x.slice();
    sys.acceleration.set([0.03 * 9.80665, 0, -9.80665]);
    const { status } = pseudoTransient(sys, aside, { ...HUNG_STEPS, formulation, tolerance: 1e-3, maxIterations: 300 });
    expect(status).toBe('settled');
    return { sys, x, aside, formulation };
  };

  it('pulled aside by 3 % of its weight, its middle swings by atan 0.03 about the hook, statics, within 0.05 deg', () => {
    const { sys, x, aside } = pulledAside({}),
      { mass, supports } = sys.model,
      hook = supports[0]!.sdf as { readonly a: readonly number[] },
      deg = 180 / Math.PI;
    const lean = (at: Float64Array): number => {
      let [m, side, z] = [0, 0, 0];
      mass.forEach((w, v) => {
        m += w;
        side += w * at[3 * v]!;
        z += w * at[3 * v + 2]!;
      });
      return Math.atan2(side / m - hook.a[0]!, hook.a[2]! - z / m);
    };
    const swung = lean(aside) - lean(x);
    console.log(`swings ${(swung * deg).toFixed(3)} deg, statics ${(Math.atan(0.03) * deg).toFixed(3)}`);
    expect(Math.abs(swung - Math.atan(0.03)) * deg).toBeLessThan(0.05);
  });

  it('a loose load is pulled aside with its bag: the hook carries 3 % of all that hangs sideways, within 0.1 %', () => {
    const { sys, aside, formulation } = pulledAside({ load: '2 kg' });
    let [side, up] = [0, 0];
    reactions(sys, aside, formulation).supports.forEach((f, i) => {
      if (i % 3 === 0) side += f;
      if (i % 3 === 2) up += f;
    });
    console.log(`sideways ${side.toFixed(4)} N of ${up.toFixed(3)} N`);
    expect(up).toBeGreaterThan(2 * 9.80665);
    expect(Math.abs(-side / up / 0.03 - 1)).toBeLessThan(1e-3);
  });

  it.each(['hook', 'bar', 'hands'])('leather on a %s comes back from all four, its mouth within 0.1 mm', (from) => {
    const run = hang(strapped({ from, ...(from === 'hands' ? { apart: '300 mm' } : {}) }), leather, false);
    expect(run.nudge).toMatchObject({ tested: true, comesBack: true });
    expect(run.nudge.worstShift).toBeLessThan(1e-4);
  });
});

describe('a strap that slips where the two sides of a hook meet', () => {
  it('comes to rest at 1e-4 of a vertex weight, in the tote with a plain front at 20 mm', () => {
    const doc = JSON.parse(readFileSync(new URL('../../demos/pocket-tote.bag.json', import.meta.url), 'utf8'));
    const run = previewBag(parseBag(doc), { option: 'plain front', bands: ['mid'], edgeLength: 0.02, skipNudge: true }).runs[0]!;
    console.log(`residual ${run.residual.toExponential(1)}, bar 1e-4`);
    expect(run.status).toBe('settled');
    expect(run.residual).toBeLessThan(1e-4);
  });

  it.each(['hook', 'bar', 'shoulder'])('anchors carry all but what lies above them on a %s, within 0.1 %', (from) => {
    const scene = prepare(parseBag(strapped({ from })), { option: leather, edgeLength: 0.022 }),
      { mesh, model, rig } = scene,
      h = hang(strapped({ from })).hung!;
    // Of a strap's own points, everything counts as above the anchors: lumped weight, so statics holds to the residual.
    let below = 0;
    for (let v = 0; v < mesh.vertexCount; v++) below += model.mass[v]! * 9.80665;
    expect(rig.straps.length).toBe(2);
    const carried = h.straps.flatMap((s) => s.anchors).reduce((sum, a) => sum + a.force[2], 0);
    console.log(`anchors carry ${carried.toFixed(5)} N, weight below ${below.toFixed(5)} N`);
    expect(Math.abs(carried / below - 1)).toBeLessThan(1e-3);
  });
});

describe('faults of hung stances', () => {
  const faults = (doc: Plain): string => {
    try {
      const bag = parseBag(doc);
      previewBag(bag, { option: leather, bands: ['mid'], edgeLength: 0.03 });
    } catch (error) {
      if (error instanceof BagError) return error.message;
      throw error;
    }
    return '';
  };

  it('a bag without straps, an unknown strap, a slope on a hook, all named', () => {
    const doc = file();
    doc.stances = { a: { kind: 'hung' }, b: { kind: 'standing', from: 'hook' } };
    expect(faults(doc)).toMatch(/stances\.a.*without straps[\s\S]*stances\.b\.from/);
    expect(faults(strapped({ straps: ['handel'] }))).toContain('handle');
    expect(faults(strapped({ slope: '15 deg' }))).toContain('slope only on a shoulder');
    expect(faults(strapped({ load: '2 litres' }))).toContain('stances.hung.load');
    expect(faults(strapped({ load: { mass: '2 kg', fill: 3 } }))).toContain('stances.hung.load.fill');
  });

  it('two hands and one strap, a distance between what is no pair of hands, both named; two hands too far apart tell the length that would do', () => {
    expect(faults(strapped({ from: 'hands', straps: ['handle'] }))).toBe(
      'stances.hung.from: got two hands and one strap; expected at least two straps that carry, one for each hand',
    );
    expect(faults(strapped({ from: 'bar', apart: '0.2 m' }))).toMatch(/stances.hung.apart: .*a distance only between hands/);
    expect(faults(strapped({ from: 'hands', apart: '900 mm' }))).toMatch(
      /^straps.handle.length: got 560 mm; expected at least \d+ mm, to go over hands of 30 mm/,
    );
  });

  it('a bar that would run through the bag is told with the panels in its way', () => {
    // Front and back rise in an arc between the anchors, 43 mm higher than where the straps leave them; 233 mm of strap just clear the anchors.
    const doc = strapped({ from: 'bar', diameter: '12 mm' }, { length: '240 mm', from: { panel: 'front', 'from left': '40 mm' } });
    const corners = [
      { at: [0, 0], edge: 'bottom' },
      { at: ['W', 0], edge: 'right' },
      { at: ['W', 'H'], edge: 'top', rise: '100 mm' },
      { at: [0, 'H'], edge: 'left' },
    ];
    doc.panels = { ...(doc.panels as Plain), front: { outline: corners, open: ['top'] }, back: { outline: corners, open: ['top'] } };
    expect(() => hang(doc)).toThrow(/bar that runs through front[\s\S]*bar that runs through back/);
  });

  it('a strap too short for the bar is told with the length that would do', () => {
    const text = faults(strapped({ from: 'shoulder' }, { length: '190 mm' }));
    expect(text).toMatch(/straps\.handle\.length: got 190 mm; expected at least \d+ mm, to go over a shoulder of 100 mm/);
  });
});

describe.each([
  ['bucket', 'canvas, foam, poplin'],
  // Lined canvas: with 40 iterations of CG a step it crept for 800 steps without arriving.
  ['crescent', 'canvas, poplin lining'],
])('the %s template on its strap (%s)', (name, option) => {
  const bag = parseBag(templates().find((t) => t.name === name)!.text),
    run = previewBag(bag, { option, stance: 'hung', bands: ['mid'], edgeLength: 0.025 }).runs[0]!,
    h = run.hung!;

  it('comes to rest with 0 crossings, level within 1 deg', () => {
    console.log(`${name}: ${run.iterations} steps, residual ${run.residual.toExponential(1)}, tilt ${((h.tilt * 180) / Math.PI).toFixed(2)} deg`);
    expect([run.status, run.contact.crossings]).toEqual(['settled', 0]);
    expect(h.tilt).toBeLessThan(Math.PI / 180);
  });

  it('its two ends carry what hangs below them within 0.1 %, no further apart than friction round a hook (0.4, half a turn) holds them', () => {
    const { mesh, model } = prepare(bag, { option, stance: 'hung', edgeLength: 0.025 });
    const [a, b] = h.straps[0].anchors,
      below = model.mass.subarray(0, mesh.vertexCount).reduce((sum, m) => sum + 9.80665 * m, 0);
    console.log(`${name}: ends carry ${(a.force[2] + b.force[2]).toFixed(5)} N, weight below them ${below.toFixed(5)} N`);
    expect(Math.abs((a.force[2] + b.force[2]) / below - 1)).toBeLessThan(1e-3);
    expect(Math.abs(Math.log(a.size / b.size))).toBeLessThan(0.4 * Math.PI);
  });
});

/**
 * A strap on a sloping shoulder: with wrap angle w and pull T everywhere along it, the shoulder is pressed with T w in all and carries 2 T sin(w/2) of
 * weight across its axis, so friction holds up to tan(slope) = mu w/(2 sin(w/2)): between mu (a strap that hardly wraps) and mu pi/2 (legs plumb).
 */
describe('straps on a shoulder of 100 mm, friction 0.3, against the closed form of a limp strap', () => {
  const LEG = (3 * Math.PI) / 180,
    wrap = Math.PI - 2 * LEG,
    limit = (0.3 * wrap) / (2 * Math.sin(wrap / 2));
  const on = (share: number) => {
    const slope = Math.atan(share * limit);
    const doc = strapped({ from: 'shoulder', slope: `${slope} rad`, friction: 0.3, diameter: '100 mm' }, { length: '700 mm' });
    return previewBag(parseBag(doc), { option: leather, bands: ['mid'], edgeLength: 0.022 });
  };

  it('stay at 0.9 of the limit, having slid under 10 mm, their legs within 0.6 deg of the 3 that the limit is worked out for', () => {
    const { runs } = on(0.9),
      { status, hung } = runs[0]!;
    const legs = hung!.straps.flatMap((s) => s.anchors.map((a) => a.legAngle));
    console.log(`slid ${(1000 * hung!.slid).toFixed(1)} mm; legs ${legs.map((l) => ((180 * l) / Math.PI).toFixed(1)).join(', ')} deg`);
    expect(status).toBe('settled');
    expect(hung!.slid).toBeLessThan(0.01);
    for (const leg of legs) expect(Math.abs(leg - LEG)).toBeLessThan(0.6 * (Math.PI / 180));
  });

  it('slide at 1.1 of it: no verdict, and the reason says that they slide and how far', () => {
    const { runs, verdict } = on(1.1),
      { status, hung } = runs[0]!;
    console.log(`slid ${(1000 * hung!.slid).toFixed(1)} mm: ${verdict.reason}`);
    expect(status).toBe('notConverged');
    expect(hung!.slid).toBeGreaterThan(0.02);
    expect(verdict.word).toBe('no verdict');
    expect(verdict.reason).toContain('straps slide along what it hangs from');
  });
});
