import type { Bag } from '../../src/bag/index.ts';
import { seeded } from '../../src/numerics/random.ts';
import type { Draft } from '../../src/panels/types.ts';
import { sewn } from './bags.ts';
import { boxedOutline } from './boxed-outline.ts';

interface Parts {
  readonly panels: Record<string, unknown>;
  readonly seams: Record<string, unknown>;
}
const parts = (panels: Parts['panels'], seams: Parts['seams']): Parts => ({ panels, seams });

const mm = (v: number): string => `${v.toFixed(3)} mm`;

/**
 * A random bag that a maker could sew: a kind and its sizes from one seed. Lengths match by construction (chords and arcs in closed form),
 * except where a gather is stated.
 */
export function randomBag(seed: number): { kind: string; panels: Parts['panels']; seams: Parts['seams']; bag: Bag; draft: Draft } {
  const r = seeded(seed);
  const between = (low: number, high: number): number => low + (high - low) * r();
  const kinds = ['walls', 'sheets', 'gusset', 'tube', 'barrel', 'boxed', 'gathered', 'closed'] as const;
  const kind = kinds[Math.floor(r() * kinds.length)];
  const make = {
    walls: () => walls(Math.floor(between(3, 8)), between(60, 160), between(60, 300), between(-0.15, 0.25)),
    sheets: () => sheets(between(120, 400), between(100, 400), between(-0.25, 0.25), between(-0.2, 0.2), between(0, 0.4)),
    gusset: () => gusset(between(150, 380), between(120, 350), between(30, 140), between(0.05, 0.45)),
    tube: () => tube(between(80, 300), between(60, 350), between(0, 1)),
    barrel: () => barrel(between(120, 300), between(200, 550), between(0.05, 0.3)),
    boxed: () => boxed(between(200, 420), between(200, 420), between(0.15, 0.45)),
    gathered: () => gathered(between(80, 250), between(40, 120), between(80, 250), between(1.1, 2.5)),
    closed: () => closed(between(120, 350), between(100, 300), between(0, 0.3)),
  }[kind];
  const made = make();
  return { kind, ...made, ...sewn(made.panels, made.seams) };
}

const box = (w: number, h: number) => ({ rectangle: { width: mm(w), height: mm(h) } });

/** Regular base of n sides with trapezoid walls that lean out or in. */
function walls(n: number, radius: number, height: number, flare: number) {
  const side = 2 * radius * Math.sin(Math.PI / n);
  const outline = Array.from({ length: n }, (_, i) => ({
    at: [mm(radius * Math.cos((2 * Math.PI * i) / n)), mm(radius * Math.sin((2 * Math.PI * i) / n))],
    edge: `s${i}`,
  }));
  const panels: Record<string, unknown> = { base: { outline } };
  const seams: Record<string, unknown> = {};
  for (let i = 0; i < n; i++) {
    panels[`wall ${i}`] = { role: i === 0 ? 'front' : 'side', trapezoid: { bottom: mm(side), top: mm(side * (1 + flare)), height: mm(height) }, open: ['top'] };
    seams[`b${i}`] = { join: [`base.s${i}`, `wall ${i}.bottom`] };
    // Walls follow one another the other way round, the base being seen from below.
    seams[`c${i}`] = { join: [`wall ${i}.left`, `wall ${(i + 1) % n}.right`] };
  }
  return parts(panels, seams);
}

/** Two alike sheets with curved sides, sewn round but for the top. */
function sheets(w: number, h: number, low: number, side: number, taper: number) {
  const outline = [
    {
      at: [mm(w * taper * 0.5), mm(0)],
      edge: 'bottom',
      curve: [
        [mm(w * (taper * 0.5 + (1 - taper) * 0.3)), mm(-low * h)],
        [mm(w * (1 - taper * 0.5 - (1 - taper) * 0.3)), mm(-low * h)],
      ],
    },
    {
      at: [mm(w * (1 - taper * 0.5)), mm(0)],
      edge: 'right',
      curve: [
        [mm(w * (1 + side)), mm(h * 0.3)],
        [mm(w * (1 + side)), mm(h * 0.7)],
      ],
    },
    { at: [mm(w), mm(h)], edge: 'top' },
    {
      at: [mm(0), mm(h)],
      edge: 'left',
      curve: [
        [mm(-w * side), mm(h * 0.7)],
        [mm(-w * side), mm(h * 0.3)],
      ],
    },
  ];
  return parts(
    { front: { outline, open: ['top'] }, back: { outline, open: ['top'] } },
    {
      s: {
        join: [
          ['front.left', 'front.bottom', 'front.right'],
          ['back.left', 'back.bottom', 'back.right'],
        ],
      },
    },
  );
}

function gusset(w: number, h: number, d: number, rounding: number) {
  const R = rounding * Math.min(w, h);
  const face = {
    rectangle: { width: mm(w), height: mm(h), radius: [mm(R), mm(R), 0, 0] },
    open: ['top'],
    chains: { around: ['left', 'left-bottom', 'bottom', 'bottom-right', 'right'] },
  };
  return parts(
    { front: face, back: face, gusset: { ...box(w + 2 * h - (4 - Math.PI) * R, d), open: ['left', 'right'] } },
    { a: { join: ['front.around', 'gusset.bottom'] }, b: { join: ['back.around', 'gusset.top'] } },
  );
}

/** Tube on a base between a circle and a stadium. */
function tube(d: number, h: number, stretch: number) {
  const a = stretch * d;
  const half = d / 2;
  const outline = [
    { at: [mm(0), mm(0)], edge: 'low' },
    { at: [mm(a + 1), mm(0)], edge: 'round right', through: [mm(a + 1 + half), mm(half)] },
    { at: [mm(a + 1), mm(d)], edge: 'high' },
    { at: [mm(0), mm(d)], edge: 'round left', through: [mm(-half), mm(half)] },
  ];
  const girth = 2 * (a + 1) + Math.PI * d;
  return parts(
    { base: { outline, chains: { rim: ['low', 'round right', 'high', 'round left'] } }, body: { ...box(girth, h), open: ['top'] } },
    { a: { join: ['body.left', 'body.right'] }, b: { join: ['base.rim', 'body.bottom'] } },
  );
}

function barrel(d: number, length: number, closedShare: number) {
  const c = (100 * closedShare).toFixed(4);
  const o = (100 - 100 * closedShare).toFixed(4);
  const end = { circle: { diameter: mm(d) } };
  return parts(
    { body: { ...box(length, Math.PI * d), open: ['top', 'bottom'] }, 'left end': end, 'right end': end },
    {
      l: { join: ['left end.rim', 'body.left'] },
      r: { join: ['right end.rim', 'body.right'] },
      y: { join: [`body.bottom[0%..${c}%]`, `body.top[${o}%..100%]`] },
      z: { join: [`body.bottom[${o}%..100%]`, `body.top[0%..${c}%]`] },
    },
  );
}

function boxed(w: number, h: number, share: number) {
  const c = (share * Math.min(w, h)) / 2;
  const sheet = { outline: boxedOutline(w, h, c, (x, y) => [mm(x), mm(y)]), open: ['top'] };
  const seams: Record<string, unknown> = {
    a: { join: ['front.left', 'back.right'] },
    b: { join: ['front.right', 'back.left'] },
    c: { join: ['front.bottom', 'back.bottom'] },
  };
  for (const s of ['front', 'back']) {
    seams[`${s} l`] = { join: [`${s}.cut left in`, `${s}.cut left down`] };
    seams[`${s} r`] = { join: [`${s}.cut right up`, `${s}.cut right out`] };
  }
  return parts({ front: sheet, back: sheet }, seams);
}

function gathered(d: number, band: number, skirt: number, ratio: number) {
  const girth = Math.PI * d;
  return parts(
    {
      base: { circle: { diameter: mm(d) } },
      skirt: { role: 'body', ...box(girth * ratio, skirt) },
      band: { role: 'body', ...box(girth, band), open: ['top'] },
    },
    {
      a: { join: ['skirt.left', 'skirt.right'] },
      b: { join: ['band.left', 'band.right'] },
      c: { join: ['base.rim', 'skirt.bottom'], gather: ratio },
      d: { join: ['band.bottom', 'skirt.top'], gather: ratio },
    },
  );
}

/** A cushion: two sheets sewn all the way round. */
function closed(w: number, h: number, rounding: number) {
  const R = rounding * Math.min(w, h);
  const names = R > 0 ? ['bottom', 'bottom-right', 'right', 'right-top', 'top', 'top-left', 'left', 'left-bottom'] : ['bottom', 'right', 'top', 'left'];
  const sheet = { rectangle: { width: mm(w), height: mm(h), radius: mm(R) }, chains: { rim: names } };
  return parts(
    { front: sheet, back: { ...sheet } },
    {
      s: { join: ['front.bottom', 'back.bottom'] },
      t: {
        join: [
          names.slice(1).map((n) => `front.${n}`),
          names
            .slice(1)
            .reverse()
            .map((n) => `back.${n}`),
        ],
      },
    },
  );
}
