import { describe, expect, it } from 'vitest';
import { newBag, parseBag } from '../../src/bag/index.ts';
import { settleBag, textReport } from '../../src/index.ts';
import { prepareScene } from '../../src/run/scene.ts';

const EDGE = 0.02;
const document = (name: string, stances: object, more: object = {}) => parseBag({ ...JSON.parse(newBag(name)), stances, ...more });
const quick = { edgeLength: EDGE, bands: ['mid'], skipNudge: true, corners: false, askAgain: false } as const;

describe('an envelope clutch and its snap', () => {
  const bag = document('envelope-clutch', { out: { closed: 'left out' }, open: { closed: [] }, down: { closed: ['snap'] } });

  it('left out weighs nothing; open or closed the two parts add 5 g, half on either panel, to 1e-12 kg', () => {
    const [out, open, down] = ['out', 'open', 'down'].map((stance) => prepareScene(bag, { edgeLength: EDGE, stance }));
    const sum = (m: Float64Array) => m.reduce((a, b) => a + b, 0);
    expect(sum(open!.model.mass) - sum(out!.model.mass)).toBeCloseTo(0.005, 12);
    expect(sum(down!.model.mass) - sum(out!.model.mass)).toBeCloseTo(0.005, 12);
    const flap = open!.mesh.panelNames.indexOf('flap'),
      own = new Set(open!.mesh.panelVerts[flap]!.verts);
    const added = open!.model.mass.reduce((s, m, v) => s + (own.has(v) ? m - out!.model.mass[v]! : 0), 0);
    expect(added).toBeCloseTo(0.0025, 12);
    expect(open!.model.cables).toBeUndefined();
  });

  it('flap down: from upright to 4 mm of the other part, outside, at rest and without a crossing; told with its pull and how far the edge stands off', () => {
    const result = settleBag(bag, { ...quick, stance: 'down' });
    const run = result.runs[0]!,
      [snap] = run.closures!;
    console.log(run.status, run.residual, snap);
    expect(run.status).toBe('settled');
    expect(run.contact.crossings).toBe(0);
    expect(snap).toMatchObject({ name: 'snap', closed: true, left: 0 });
    // Within a tenth of a millimetre of its gap: the tie gives 0.02 mm a newton.
    expect(snap!.gape).toBeLessThan(1e-4);
    expect(snap!.pull).toBeGreaterThanOrEqual(0);
    expect(snap!.pull).toBeLessThan(1);
    expect(snap!.lift).toBeLessThan(0.02);
    // The front looks to -y: the flap's part lies before it.
    const [flap, front] = ['flap', 'front'].map((name) => result.mesh.panelNames.indexOf(name));
    const mean = (p: number, low: number) => {
      const at = [...result.mesh.panelVerts[p]!.verts].map((v) => [run.positions[3 * v + 1]!, run.positions[3 * v + 2]!] as const).filter(([, z]) => z < low);
      return at.reduce((s, [y]) => s + y, 0) / at.length;
    };
    expect(mean(flap!, 0.1)).toBeLessThan(mean(front!, 0.1));
    expect(textReport(result)).toMatch(/snap: closed; (hardly any pull on it|pull \d)/);
  });

  it('open says how far apart its parts stand, and pulls nothing', () => {
    const [snap] = settleBag(bag, { ...quick, stance: 'open' }).runs[0]!.closures!;
    expect(snap!.closed).toBe(false);
    expect(snap!.gape).toBeGreaterThan(0.01);
    expect(snap!.pull).toBeNull();
  });
});
