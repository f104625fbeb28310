/** The shelf that a maker begins with: one of each kind, with a note beside what is not plain. Prices are made up, and say so. */
import { printBag } from '../bag/index.ts';
import type { ShelfDocument } from './types.ts';

/** A shelf document as text, ending in a newline; everything stays as written. */
export const printShelf = (document: ShelfDocument): string => printBag(document);

const START: ShelfDocument['value'] = {
  shelf: 1,
  name: 'My shelf',
  note: 'What you own or can buy. Strike out what you have not got; the prices are made up. Check it with: slumpline check my.shelf.json',
  currency: 'EUR',
  items: {
    canvas: {
      note: '"material" is a built-in one (slumpline materials lists them), or one of "materials" below; "use" is what you would use it as',
      material: 'canvas12',
      use: 'shell',
      width: '1500 mm',
      price: { 'per metre': 14 },
      stock: '2.5 m',
      colour: 'natural',
    },
    'my canvas': {
      note: 'your own swatch: see "materials"',
      material: 'canvas from the market',
      use: ['shell', 'lining'],
      width: '1400 mm',
      price: { 'per metre': 9 },
    },
    leather: {
      note: 'hides are sold by area; "waste" is what their shape and flaws lose',
      material: 'chrome16',
      use: 'shell',
      thickness: '1.4 mm',
      price: { 'per m2': 60 },
      waste: '30 %',
      colour: '#6b3f22',
    },
    'light fusible': { material: 'fus_light', use: 'fused', width: '900 mm', price: { 'per metre': 3 } },
    'heavy fusible': {
      note: '"bond" is how well it sticks, 0 to 1; left out: 0.5, an estimate',
      material: 'fus_heavy',
      use: 'fused',
      width: '900 mm',
      price: { 'per metre': 5 },
    },
    fleece: { material: 'fleece', use: ['fused', 'sewn in'], width: '900 mm', price: { 'per metre': 7 } },
    foam: { material: 'foam', use: 'foam', width: '1500 mm', price: { 'per metre': 16 } },
    'base board': { material: 'pp1', use: 'board', sheet: ['500 mm', '700 mm'], price: { 'per sheet': 6 }, stock: '2 sheets' },
    cotton: { material: 'quilting', use: 'lining', width: '1100 mm', price: { 'per metre': 8 }, colour: 'stripes' },
    webbing: {
      note: 'what is sewn on and no panel is cut from is a "trim": webbing, or what a bag file calls it; "size" is its width, a zip\'s chain, a ring\'s strap',
      material: 'web_cotton',
      use: 'trim',
      size: '30 mm',
      price: { 'per metre': 1.8 },
      stock: '5 m',
    },
    zip: { material: 'coil zip', use: 'trim', size: '5 mm', price: { 'per metre': 2.2 } },
    magnet: { material: 'magnet', use: 'trim', price: { 'per piece': 0.9 }, stock: '6 pieces' },
    thread: { material: 'thread', use: 'trim', reel: '1000 m', price: { 'per reel': 6 } },
  },
  materials: {
    'canvas from the market': {
      name: 'canvas from the market',
      like: 'canvas12',
      mass: '380 g/m2',
      overhang: '62 mm',
      source: 'my own strip: overhang at 41.5 degrees',
    },
  },
};

/** A shelf to start from. */
export const startShelf: ShelfDocument = { value: START };

/** Its text: valid, with a "note" wherever JSON would need a comment. */
export const newShelf = (): string => printShelf(startShelf);
