import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  BagError,
  type Band,
  Cancelled,
  cornersPressed,
  type PreviewProgress,
  parseBag,
  prepare,
  preview,
  previewSync,
  rankChanges,
  sew,
  sweepAnchors,
} from '../../src/index.ts';

const text = readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');
const bag = parseBag(text);
const market = readFileSync(new URL('../../demos/market-tote.bag.json', import.meta.url), 'utf8');
const COARSE = 0.022;
/** For which word and which order, where no figure is claimed: half the time. */
const COARSER = 0.028;

describe('the boxed tote, end to end', () => {
  const leather = previewSync(bag, { option: 'vegetable-tanned leather', edgeLength: COARSE });

  it('holds in vegetable-tanned leather of 1.6-2.0 mm at low, mid and high', () => {
    console.log(
      leather.runs.map((r) => `${r.band}: height kept ${r.measures.heightKept?.toFixed(4)}, nudge ${r.nudge.worstShift.toExponential(1)} m`).join('; '),
    );
    expect(leather.verdict.word).toBe('holds');
    for (const r of leather.runs) {
      expect(r.status).toBe('settled');
      expect(r.residual).toBeLessThan(1e-4);
      expect(r.stable).toBe(true);
      expect(r.nudge.comesBack).toBe(true);
      expect(r.contact.crossings).toBe(0);
      expect(r.contact.deepestPenetration).toBeLessThan(2e-4);
    }
  });

  it('mass is the sum of areas, allowances and hems times areal mass to 1e-9, and the table carries the weight to 1e-3', () => {
    const area: Record<string, number> = { front: 0.3 * 0.24, back: 0.3 * 0.24, left: 0.1 * 0.24, right: 0.1 * 0.24, base: 0.3 * 0.1 };
    // Ten millimetres beside every edge that is sewn: all but the mouth.
    const sewn: Record<string, number> = { front: 0.3 + 0.48, back: 0.3 + 0.48, left: 0.1 + 0.48, right: 0.1 + 0.48, base: 0.8 };
    // In leather the mouth is turned once, 15 mm.
    const mouth: Record<string, number> = { front: 0.3, back: 0.3, left: 0.1, right: 0.1, base: 0 };
    const mass = leather.stacks.reduce((s, k) => s + (area[k.panel]! + 0.01 * sewn[k.panel]! + 0.015 * mouth[k.panel]!) * k.arealMass, 0);
    expect(Math.abs(leather.massKg / mass - 1)).toBeLessThan(1e-9);
    for (const r of leather.runs) {
      const weight = leather.massKg * 9.80665;
      console.log(`${r.band}: table carries ${r.reactions.table[2].toFixed(6)} N of ${weight.toFixed(6)} N`);
      expect(Math.abs(r.reactions.table[2] / weight - 1)).toBeLessThan(1e-3);
    }
  });

  it('after the nudge test the table pushes sideways by no more than what rest leaves unbalanced (residual x weight): no friction of the last nudge stays', () => {
    for (const r of leather.runs) {
      const weight = leather.massKg * 9.80665,
        sideways = Math.hypot(r.reactions.table[0], r.reactions.table[1]);
      console.log(`${r.band}: sideways ${sideways.toExponential(2)} N, bar ${(r.residual * weight).toExponential(2)} N (sum of unbalanced forces)`);
      expect(r.nudge.tested).toBe(true);
      expect(sideways).toBeLessThanOrEqual(r.residual * weight);
    }
  });

  it('slumps in lined soft cotton alone, and says so even when it is still falling', () => {
    const soft = structuredClone(JSON.parse(text));
    soft.stacks = { cotton: ['muslin'] };
    soft.options = { cotton: { 'every panel': 'cotton' } };
    const r = previewSync(soft, { edgeLength: COARSER });
    console.log(`${r.verdict.word}: ${r.verdict.reason}`);
    expect(r.verdict.word).toBe('slumps');
  });

  it('height kept rises with the bending length of the stack', () => {
    const kept: [number, number][] = [];
    for (const thickness of ['0.7 mm', '1 mm', '1.4 mm', '2 mm']) {
      const trial = structuredClone(JSON.parse(text));
      trial.stacks = { hide: [{ material: 'chrome16', thickness }] };
      trial.options = { hide: { 'every panel': 'hide' } };
      const r = previewSync(trial, { edgeLength: COARSER, bands: ['mid'], skipNudge: true });
      kept.push([r.stacks[0]!.overhang / 2, r.runs[0]!.measures.heightKept!]);
    }
    console.log(kept.map(([c, h]) => `c ${(c * 1000).toFixed(1)} mm -> ${(100 * h).toFixed(1)} %`).join('; '));
    for (let i = 1; i < kept.length; i++) {
      expect(kept[i]![0]).toBeGreaterThan(kept[i - 1]![0]);
      expect(kept[i]![1]).toBeGreaterThan(kept[i - 1]![1] - 0.005);
    }
  });

  it('the same input gives the same figures to the last bit', () => {
    const again = previewSync(bag, { option: 'vegetable-tanned leather', edgeLength: COARSE, bands: ['mid'] });
    const first = leather.runs.find((r) => r.band === 'mid')!;
    expect(Buffer.from(again.runs[0]!.positions.buffer).equals(Buffer.from(first.positions.buffer))).toBe(true);
  });

  it('an unknown option names those that exist; progress can cancel', () => {
    expect(() => previewSync(bag, { option: 'cardboard' })).toThrow(BagError);
    expect(() => previewSync(bag, { option: 'cardboard' })).toThrow(/vegetable-tanned leather/);
    expect(() => previewSync(bag, { edgeLength: COARSE, onProgress: () => false })).toThrow(Cancelled);
  });

  it('the two shapes sewn last serve the next cloth and pressed seams as well, and no other pattern or mesh: the same arrays, and equal ones when sewn anew', () => {
    const file = JSON.parse(text),
      first = sew(bag, COARSER),
      other = sew(parseBag({ ...file, stacks: { ...file.stacks, 'veg leather': ['muslin'] }, name: 'another name' }), COARSER);
    expect(other.mesh).toBe(first.mesh);
    expect(sew(cornersPressed(bag), COARSER).mesh, 'how a seam is pressed has no part in the shape').toBe(first.mesh);
    expect(sew(bag, COARSE).mesh.vertexCount).toBeGreaterThan(first.mesh.vertexCount);
    expect(sew(bag, COARSER).mesh, 'one mesh between').toBe(first.mesh);
    for (const edge of [COARSE, 1.1 * COARSE]) sew(bag, edge);
    const again = sew(bag, COARSER);
    expect(again.mesh).not.toBe(first.mesh);
    expect(again).toEqual(first);
    const wider = structuredClone(file);
    wider.parameters.W = '310 mm';
    expect(sew(parseBag(wider), COARSER).drafted).not.toEqual(first.drafted);
  });
});

describe('preview, the way that lets others work beside it', () => {
  const leather = { option: 'vegetable-tanned leather', edgeLength: COARSER, bands: ['mid'] as const };

  it('gives the same bytes as previewSync, tells shares that only go forward in [0, 1) with band and stage apart, and lets a timer through', async () => {
    const told: PreviewProgress[] = [];
    let ticks = 0;
    const timer = setInterval(() => ticks++, 1);
    const result = await preview(text, { ...leather, onProgress: (at) => void told.push(at) });
    clearInterval(timer);
    const sync = previewSync(bag, leather);
    expect(Buffer.from(result.runs[0]!.positions.buffer).equals(Buffer.from(sync.runs[0]!.positions.buffer))).toBe(true);
    expect(ticks).toBeGreaterThan(0);
    expect(told.length).toBeGreaterThan(3);
    expect(new Set(told.map((t) => t.band))).toEqual(new Set(['mid']));
    for (const t of told) expect(t.stage).not.toContain(':');
    told.forEach((t, i) => {
      expect(t.fraction).toBeGreaterThanOrEqual(i === 0 ? 0 : told[i - 1]!.fraction);
      expect(t.fraction).toBeLessThan(1);
    });
  });

  it('a signal aborted while the bag is still drafted and meshed stops it there: set-up looks up 6 times before the solver is told of', async () => {
    const other = parseBag(text.replace('"W": "300 mm"', '"W": "301 mm"'));
    expect(other).not.toEqual(bag);
    let told = 0,
      looks = 0;
    const signal = {
      get aborted() {
        looks++;
        return told > 0;
      },
      reason: new Error('stopped'),
    };
    const running = preview(other, {
      ...leather,
      signal: signal as unknown as AbortSignal,
      onProgress: () => {
        told++;
      },
    });
    await expect(running).rejects.toThrow('stopped');
    expect(looks, 'looks at the signal: at the beginning, after check, mesh, shape, model, before and after the system').toBeGreaterThanOrEqual(6);
    const early = new AbortController();
    let heard = 0;
    const stopped = preview(other, {
      ...leather,
      edgeLength: 0.0213,
      signal: early.signal,
      onProgress: () => {
        heard++;
      },
    });
    setTimeout(() => early.abort(new Error('too early')), 0);
    await expect(stopped).rejects.toThrow('too early');
    expect(heard, 'progress of a solver that never began').toBe(0);
  });

  it('an aborted signal rejects with its own reason, before the first step and between two', async () => {
    await expect(preview(bag, { ...leather, signal: AbortSignal.abort(new Error('enough')) })).rejects.toThrow('enough');
    const stop = new AbortController();
    const running = preview(bag, { ...leather, signal: stop.signal, onProgress: () => stop.abort(new Error('stopped')) });
    await expect(running).rejects.toThrow('stopped');
  });

  it('onProgress may answer with a promise: the work waits for it, one of false cancels, one that fails rejects with its error', async () => {
    let open = 0;
    const told: number[] = [];
    const result = await preview(bag, {
      ...leather,
      skipNudge: true,
      onProgress: async () => {
        open++;
        await new Promise((then) => setTimeout(then, 1));
        told.push(open--);
      },
    });
    expect(result.verdict.word).toBe('holds');
    expect(told.length).toBeGreaterThan(3);
    // Never two at once: nothing went on while one was open, but for several within one step.
    expect(Math.max(...told)).toBeLessThanOrEqual(2);
    await expect(preview(bag, { ...leather, onProgress: async () => false })).rejects.toThrow(Cancelled);
    await expect(preview(bag, { ...leather, onProgress: () => Promise.reject(new Error('line cut')) })).rejects.toThrow('line cut');
  });

  it('what runs at one go refuses a promise with a BagError at onProgress instead of passing over it', () => {
    const onProgress = async () => false;
    for (const run of [
      () => previewSync(bag, { ...leather, onProgress }),
      () => rankChanges(bag, { edgeLength: 0.05, onProgress }),
      () => sweepAnchors(parseBag(market), { to: 0.08, edgeLength: 0.05, onProgress }),
    ]) {
      expect(run).toThrow(BagError);
      expect(run).toThrow(/onProgress: got a promise/);
    }
  });

  it('bad input rejects with a BagError that has a path for each fault: bands, mesh, seed, option and stance at once', async () => {
    const faultsOf = (o: object) =>
      preview(bag, o).then(
        () => [],
        (e) => (e as BagError).faults.map((f) => f.path),
      );
    expect(await faultsOf({ bands: [] })).toEqual(['bands']);
    expect(await faultsOf({ bands: ['bogus', 'mid', 'mid'] })).toEqual(['bands.0', 'bands.2']);
    expect(await faultsOf({ bands: 'mid' })).toEqual(['bands']);
    expect(await faultsOf({ optionn: 'x', band: 'low' })).toEqual(['optionn', 'band']);
    expect(() => previewSync(bag, { edgelength: 0.05 } as object)).toThrow(/"edgeLength"\?/);
    expect(() => prepare(bag, { optionn: 'x' } as object)).toThrow(/"option"\?/);
    expect(await faultsOf({ edgeLength: '0.05' })).toEqual(['mesh']);
    expect(await faultsOf({ onProgress: 5, now: 'noon', corners: 'yes', skipNudge: 1 })).toEqual(['onProgress', 'now', 'corners', 'skipNudge']);
    expect(await faultsOf({ signal: 'stop' })).toEqual(['signal']);
    expect(() => rankChanges(bag, { optionn: 'x' } as object)).toThrow(/"option"\?/);
    expect(() => sweepAnchors(bag, { too: 1 } as never)).toThrow(/too: got an unknown option/);
    expect(() => prepare(bag, { band: 'medium' as Band })).toThrow(/"low", "mid" or "high"/);
    for (const none of [null, undefined, 7]) await expect(preview(none as never)).rejects.toThrow(BagError);
    expect(await faultsOf({ option: 'x', stance: 'y', edgeLength: Number.NaN, seed: 0.5 })).toEqual(['options', 'stances', 'mesh', 'seed']);
  });
});

describe('ends of the band with the same cloth', () => {
  it('are settled once: stated rigidities give three runs of the same arrays for all, the band of a hide another shape for each', () => {
    const stated = structuredClone(JSON.parse(text));
    stated.stacks = {
      board: { mass: '1500 g/m2', thickness: '1.5 mm', D11: '20 mN.m', D22: '20 mN.m', D66: '9 mN.m', C11: '200 kN/m', C22: '200 kN/m', C66: '80 kN/m' },
    };
    stated.options = { board: { 'every panel': 'board' } };
    const { runs } = previewSync(stated, { edgeLength: COARSER });
    expect(runs.map((r) => r.band)).toEqual(['low', 'mid', 'high']);
    expect(runs[1]!.positions).toBe(runs[0]!.positions);
    expect(runs[2]!.positions).toBe(runs[0]!.positions);
    const banded = previewSync(bag, { option: 'vegetable-tanned leather', edgeLength: COARSER, skipNudge: true }).runs;
    expect(banded[1]!.positions).not.toBe(banded[0]!.positions);
  });
});

describe('one gate: what the pattern check refuses is refused by preview() as well', () => {
  const twisted = () => {
    const spec = structuredClone(JSON.parse(text));
    const { E, F } = spec.seams;
    expect([E, F]).toEqual([expect.anything(), expect.anything()]);
    const swap = (s: { join: string[] }) => ({
      ...s,
      join: s.join.map((j) => j.replace(/^right\.(left|right)$/, (_, e) => `right.${e === 'left' ? 'right' : 'left'}`)),
    });
    return { ...spec, seams: Object.fromEntries(Object.entries(spec.seams).map(([k, s]) => [k, swap(s as { join: string[] })])) };
  };

  it('a side panel sewn in inside out, with its fault and path, before anything is meshed; twice in a row, so that nothing kept lets it through', async () => {
    const bad = twisted();
    for (let k = 0; k < 2; k++) {
      const error = await preview(bad, { edgeLength: COARSER }).catch((e) => e);
      expect(error).toBeInstanceOf(BagError);
      expect((error as BagError).faults[0]!.path).toMatch(/^(seams|panels)\./);
      expect(() => previewSync(bad, { edgeLength: COARSER })).toThrow(BagError);
    }
  });

  it('two strips that are only ever held may be loose; the same two on a table may not, though their shape was sewn a moment ago', () => {
    const spec = JSON.parse(readFileSync(new URL('../../demos/clamped-strip.bag.json', import.meta.url), 'utf8'));
    const two = { ...spec, panels: { ...spec.panels, 'second strip': { rectangle: { width: 'width', height: 'overhang' } } } };
    expect(sew(parseBag(two), 0.01).mesh.panelNames).toEqual(['strip', 'second strip']);
    expect(() => sew(parseBag({ ...two, stances: { ...two.stances, standing: { kind: 'standing' } } }), 0.01)).toThrow(/second strip/);
  });
});
