import { type Bag, parseBag } from '../../src/index.ts';
import { statedStack } from '../bag/stated-stack.ts';

type Layer = string | Readonly<Record<string, string>>;

/**
 * Twelve stacks that makers choose for a bag that is meant to stand, from the face inward, and why each is here (common practice, no source). None was left out for its word.
 */
export const TWELVE: readonly { readonly name: string; readonly layers: readonly Layer[]; readonly why: string }[] = [
  {
    name: 'canvas 12 oz, woven fusible, poplin',
    layers: ['canvas12', { fused: 'fus_woven_heavy' }, { loose: 'poplin' }],
    why: 'the lined bag of a first pattern: a woven fusible for body',
  },
  { name: 'canvas 10 oz, fleece, quilting', layers: ['canvas10', { fused: 'fleece' }, { loose: 'quilting' }], why: 'needled fleece for loft, cotton inside' },
  {
    name: 'quilting, woven fusible, foam, quilting',
    layers: ['quilting', { fused: 'fus_woven' }, { loose: 'foam' }, { loose: 'quilting' }],
    why: 'the home-sewn structured bag: print outside and inside, foam between, sewn in',
  },
  { name: 'canvas 10 oz, foam, poplin', layers: ['canvas10', { fused: 'foam' }, { loose: 'poplin' }], why: 'canvas on a fusible foam stabiliser' },
  {
    name: 'waxed canvas, nonwoven board, poplin',
    layers: ['waxed10', { loose: 'nwboard' }, { loose: 'poplin' }],
    why: 'a stiff board slipped between waxed canvas and lining',
  },
  { name: 'canvas 24 oz', layers: ['canvas24'], why: 'heavy duck, unlined: said to stand by itself' },
  {
    name: 'raw denim, heavy fusible, poplin',
    layers: ['denim14raw', { fused: 'fus_heavy' }, { loose: 'poplin' }],
    why: 'sized denim with a heavy nonwoven fusible',
  },
  { name: 'chrome-tanned 1.6 mm', layers: ['chrome16'], why: 'an unlined bag leather of the usual weight' },
  {
    name: 'chrome-tanned 1.6 mm, leather board, poplin',
    layers: ['chrome16', { bonded: 'leatherboard0.8' }, { loose: 'poplin' }],
    why: 'the same reinforced with bonded leather fibre',
  },
  { name: 'vegetable-tanned 2.0 mm', layers: ['veg20'], why: 'firm leather, unlined, hand-stitched' },
  { name: 'vinyl, foam, poplin', layers: ['vinyl', { loose: 'foam' }, { loose: 'poplin' }], why: 'vinyl on knit over sewn-in foam' },
  {
    name: 'leather 1.1 mm, fibreboard, poplin',
    layers: ['upholstery', { bonded: 'fibreboard0.6' }, { loose: 'poplin' }],
    why: 'thin leather glued to fibreboard, as bags with a hard shell are made',
  },
];

/** The structured bag, 280 x 220 x 110 mm, of five panels: mouth turned once over 20 mm; `pressed`: how its upright corners are pressed, not stated when left out. */
export const structuredBag = (pressed?: string): Bag =>
  bagOf(
    pressed,
    { finishes: { top: { finish: 'turned once', width: '20 mm' } } },
    TWELVE.map((s) => [s.name, s.layers]),
  );

/** The same with raw edges, of one cloth of 459 g/m2 and d uN.m each way. */
export const evenStructured = (d: number, pressed?: string): Bag => bagOf(pressed, {}, [['even', statedStack(459, d, { thickness: '0.7 mm' })]]);

function bagOf(pressed: string | undefined, mouth: object, stacks: readonly (readonly [string, unknown])[]): Bag {
  const seam = (...join: string[]) => ({ join, ...(pressed ? { pressed } : {}) });
  return parseBag({
    slumpline: 1,
    wanted: 'structured',
    panels: {
      front: { rectangle: { width: '280 mm', height: '220 mm' }, ...mouth },
      back: { copy: 'front', ...mouth },
      'left side': { rectangle: { width: '110 mm', height: '220 mm' }, ...mouth },
      'right side': { copy: 'left side', ...mouth },
      base: { rectangle: { width: '280 mm', height: '110 mm' } },
    },
    seams: {
      a: seam('front.right', 'right side.left'),
      b: seam('right side.right', 'back.left'),
      c: seam('back.right', 'left side.left'),
      d: seam('left side.right', 'front.left'),
      e: ['base.bottom', 'front.bottom'],
      f: ['base.left', 'right side.bottom'],
      g: ['base.top', 'back.bottom'],
      h: ['base.right', 'left side.bottom'],
    },
    stacks: Object.fromEntries(stacks),
    options: Object.fromEntries(stacks.map(([name]) => [name, { 'every panel': name }])),
  });
}
