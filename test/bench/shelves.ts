/** Shelves of a maker of totes, for the bench and the tests: twelve materials, and three small ones. */

/** 12 materials: 3 shells, 1 lining, 4 to fuse, 1 to sew in, 1 foam, 2 boards. Prices are made up. */
export const TWELVE = {
  shelf: 1,
  name: 'twelve materials',
  currency: 'EUR',
  items: {
    'canvas 10': { material: 'canvas10', use: 'shell', width: '1500 mm', price: { 'per metre': 11 } },
    'canvas 16': { material: 'canvas16', use: 'shell', width: '1500 mm', price: { 'per metre': 17 } },
    'waxed canvas': { material: 'waxed10', use: 'shell', width: '1450 mm', price: { 'per metre': 22 } },
    poplin: { material: 'poplin', use: 'lining', width: '1120 mm', price: { 'per metre': 7 } },
    'fusible light': { material: 'fus_light', use: 'fused', width: '900 mm', price: { 'per metre': 2.5 } },
    'fusible heavy': { material: 'fus_heavy', use: 'fused', width: '900 mm', price: { 'per metre': 4.5 } },
    'woven fusible': { material: 'fus_woven', use: 'fused', width: '1120 mm', price: { 'per metre': 6 } },
    'stiff nonwoven': { material: 'nwboard', use: 'fused', width: '500 mm', price: { 'per metre': 9 } },
    'hair canvas': { material: 'sewin', use: 'sewn in', width: '1500 mm', price: { 'per metre': 15 } },
    'foam 5': { material: 'foam', use: 'foam', width: '1500 mm', price: { 'per metre': 14 } },
    'board 1 mm': { material: 'pp1', use: 'board', sheet: ['700 mm', '1000 mm'], price: { 'per sheet': 9 } },
    'leather board': { material: 'leatherboard', use: 'board', sheet: ['500 mm', '1000 mm'], price: { 'per sheet': 7 } },
  },
} as const;

const only = (...names: (keyof typeof TWELVE.items)[]) => ({
  ...TWELVE,
  name: names.join(', '),
  items: Object.fromEntries(names.map((n) => [n, TWELVE.items[n]])),
});

/** Three shelves of at most 60 stacks for a boxed tote. */
export const SMALL = [
  only('canvas 10', 'poplin', 'fusible heavy', 'stiff nonwoven', 'board 1 mm'),
  only('canvas 10', 'canvas 16', 'poplin', 'fusible light', 'foam 5'),
  only('canvas 16', 'waxed canvas', 'hair canvas', 'leather board'),
] as const;
