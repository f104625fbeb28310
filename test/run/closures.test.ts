import { describe, expect, it } from 'vitest';
import { newBag, parseBag } from '../../src/bag/index.ts';
import { settleBag, textReport } from '../../src/index.ts';
import { prepareScene } from '../../src/run/scene.ts';
import { statedStack } from '../bag/stated-stack.ts';

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
    // The flap's corners curl: 22 mm at this mesh. Never as far as the flap falls over the front, 0.6 of 127 mm.
    expect(snap!.lift).toBeGreaterThan(0);
    expect(snap!.lift).toBeLessThan(0.6 * 0.127);
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

/** Two panels of 100 x 150 mm that hang from their top edges, 10 mm apart, the second turned by 15 degrees, and a zip between them. */
const curtains = (zip: object, stance: object = { closed: ['zip'] }) =>
  parseBag({
    slumpline: 1,
    panels: {
      p: {
        rectangle: { width: '100 mm', height: '150 mm' },
        clips: [{ edge: 'top', slope: false }],
        pose: { origin: [0, 0, '300 mm'], x: [1, 0, 0], y: [0, 0, 1] },
      },
      q: {
        copy: 'p',
        clips: [{ edge: 'top', slope: false }],
        pose: { origin: ['110 mm', 0, '300 mm'], x: [0.9659258262890683, 0.25881904510252074, 0], y: [0, 0, 1] },
      },
    },
    closures: { zip: { kind: 'coil zip', join: ['p.right[5 mm..80 mm]', 'q.left[70 mm..145 mm]'], ...zip } },
    stacks: { cloth: statedStack(300, 100, { thickness: '0.5 mm' }) },
    options: { o: { 'every panel': 'cloth' } },
    stances: { s: { kind: 'held', ...stance } },
  });

describe('a zip between two panels', () => {
  it('closed from either end it comes to one shape, to 1e-4 of its length, at rest, its edges 5 mm apart and its pull told', () => {
    const [a, b] = (['start', 'end'] as const).map((end) => settleBag(curtains({ 'closes from': end }), { ...quick, edgeLength: 0.01 }).runs[0]!);
    const away = Math.max(...a!.positions.map((v, i) => Math.abs(v - b!.positions[i]!))) / 0.075;
    console.log('apart', away, a!.status, b!.status, a!.closures, b!.closures);
    expect([a!.status, b!.status]).toEqual(['settled', 'settled']);
    expect(a!.contact.crossings + b!.contact.crossings).toBe(0);
    expect(away).toBeLessThan(1e-4);
    expect(a!.closures![0]!.gape).toBeLessThan(2e-4);
    expect(a!.closures![0]!.pullPerLength).toBeGreaterThan(0.5);
  });

  it('the clips carry both panels and the zip, 75 mm at 18 g/m and a slider of 3 g, to 1e-6 N', () => {
    const bag = curtains({}),
      { runs, mesh } = settleBag(bag, { ...quick, edgeLength: 0.01 });
    expect(runs[0]!.reactions.held[2]).toBeCloseTo(runs[0]!.panels.reduce((s, p) => s + p.massKg, 0.075 * 0.018 + 0.003) * 9.80665, 6);
    expect(mesh.vertexCount).toBeGreaterThan(200);
  });

  it('with its slider half way it closes that half: the other stays open', () => {
    const bag = curtains({ slider: 0.5 });
    const { runs } = settleBag(bag, { ...quick, edgeLength: 0.01 });
    expect(runs[0]!.closures![0]!.gape).toBeLessThan(2e-4);
    const { lines } = runs[0]!.closureLines![0]!;
    const apart = (i: number) => Math.hypot(...[0, 1, 2].map((k) => lines[0]!.at(3 * i + k)! - lines[1]!.at(3 * i + k)!));
    expect(apart(0)).toBeLessThan(0.0055);
    // The tapes' own stiffness holds the open half nearer than cloth alone would: 6.4 mm instead of more than 6.5.
    expect(apart(lines[0]!.length / 3 - 1)).toBeGreaterThan(0.006);
  });

  it('over a gap that its cloth cannot bridge it does not close: no verdict, how many millimetres are left, and what is in the way', () => {
    const bag = curtains({ join: ['p.right[60 mm..148 mm]', 'q.left[2 mm..90 mm]'] });
    const result = settleBag(bag, { ...quick, edgeLength: 0.01 });
    console.log(result.verdict.word, result.verdict.reason);
    expect(result.verdict.word).toBe('no verdict');
    expect(result.verdict.reason).toMatch(/zip.*does not close: \d+ mm are left\. In its way: its own cloth/);
    expect(result.runs[0]!.contact.crossings).toBe(0);
  });
});

describe('a drawstring in its channel', () => {
  it('a pouch drawn shut on a coarse mesh comes to rest with its cord at the length that it is drawn to, to 1e-6, or slack, its pull told at the free ends and at the far side', () => {
    const result = settleBag(parseBag(newBag('drawstring-pouch')), { ...quick, stance: 'drawn shut' }),
      run = result.runs[0]!,
      [cord] = run.closures!;
    console.log(run.status, run.residual, cord);
    expect(run.status).toBe('settled');
    expect(run.contact.crossings).toBe(0);
    expect(cord!.left).toBe(0);
    // A cord only pulls: a mouth that has fallen further shut than it was drawn leaves it slack. Which of the two comes turns on last digits of the fall.
    const off = cord!.length! / 0.1778 - 1;
    expect(cord!.pull! > 0 ? Math.abs(off) : off).toBeLessThan(1e-6);
    expect(cord!.gape).toBeLessThan(0.1);
    // Before its pull followed its length, pulls on the way went up to 1400 N, and 9.2 N were left.
    expect(cord!.pull).toBeLessThan(1);
    expect(textReport(result)).toMatch(/cord: drawn to \d+ mm.*(at its ends, .* at its far side|hardly any pull on it)/);
  });

  // Euler; Eytelwein 1808: round a convex tube both halves of the cord turn by pi from the free ends on.
  it('a strap cinched round a stiff bucket has exp(mu pi) times the pull at its free ends that it has at the far side, within 3 %', () => {
    const bag = document(
      'bucket',
      { s: { closed: ['cinch'] } },
      {
        closures: { cinch: { kind: 'cinch strap', along: 'body.top', below: '20 mm', 'drawn to': '0.97*girth', friction: 0.3 } },
      },
    );
    const option = bag.options.at(-1)!.name,
      { runs } = settleBag(bag, { ...quick, edgeLength: 0.03, stance: 's', option }),
      [cinch] = runs[0]!.closures!,
      ratio = cinch!.pull! / cinch!.leastPull!;
    console.log(runs[0]!.status, cinch, ratio, Math.exp(0.3 * Math.PI));
    expect(runs[0]!.status).toBe('settled');
    expect(cinch!.pull).toBeGreaterThan(0.1);
    expect(Math.abs(ratio / Math.exp(0.3 * Math.PI) - 1)).toBeLessThan(0.03);
  });
});

describe('a tie across the mouth', () => {
  const tied = (more: object) =>
    document(
      'boxed-tote',
      { s: { closed: ['bow'] } },
      {
        closures: {
          bow: { kind: 'tie', from: { panel: 'front', at: [0, 'H + D/2 - 15 mm'] }, to: { panel: 'back', at: [0, 'H + D/2 - 15 mm'] }, ...more },
        },
      },
    );

  it('draws the two sides of a tote of canvas and fleece to 20 mm of each other, at rest and without a crossing; its pull is told, and 4 g', () => {
    const bag = tied({ gap: '20 mm' }),
      { runs } = settleBag(bag, { ...quick, edgeLength: 0.03, stance: 's' }),
      [bow] = runs[0]!.closures!;
    console.log(runs[0]!.status, bow, runs[0]!.measures.mouthGap);
    expect(bag.closures![0]).toMatchObject({ kind: 'tie', mass: 0.004, gap: 0.02 });
    expect(runs[0]!.status).toBe('settled');
    expect(runs[0]!.contact.crossings).toBe(0);
    expect(bow).toMatchObject({ closed: true, left: 0 });
    expect(bow!.gape).toBeLessThan(2e-4);
    expect(bow!.pull).toBeGreaterThan(0.01);
  });
});
