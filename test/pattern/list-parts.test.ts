import { describe, expect, test } from 'vitest';
import { memberLengths } from '../../src/assembly/index.ts';
import { BagError, newBag, parseBag } from '../../src/bag/index.ts';
import type { Bag } from '../../src/bag/types.ts';
import { memberFigures } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/index.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { memberCuts } from '../../src/pattern/cutlist/lengths.ts';
import { CutListFile } from '../../src/pattern/cutlist/list-schema.ts';
import { cutList, cutListCsv, cutListRecord, cutListText } from '../../src/pattern/cutting.ts';
import { finishedParts, prepareScene, weigh } from '../../src/run/index.ts';
import { parseShelf } from '../../src/shelf/index.ts';
import { templateBags } from './cut-bags.ts';

const bags = templateBags();
/** A boxed tote with one of everything that is cut by length or bought by the piece. */
const fitted = (more: object = {}): Bag =>
  parseBag({
    ...JSON.parse(newBag('boxed-tote')),
    members: {
      piping: { along: ['front.top', 'back.top'], kind: 'paper cord', size: '5 mm', 'stops short': '8 mm' },
      boning: { along: ['front.side left', 'front.side right'], kind: 'plastic boning', 'stops short': '15 mm' },
      frame: { along: 'back.side left', kind: 'metal frame', length: '380 mm' },
    },
    hardware: {
      feet: {
        kind: 'foot',
        panel: 'front',
        at: [
          ['100 mm', '60 mm'],
          ['200 mm', '60 mm'],
        ],
      },
    },
    closures: { snap: { kind: 'snap', from: { panel: 'front', at: ['180 mm', '280 mm'] }, to: { panel: 'back', at: ['180 mm', '280 mm'] } } },
    ...more,
  });

describe('what is cut by length', () => {
  test('members are as long as the solver takes them to be: to 1e-9 m on three bags, lines that meet in the sewn bag as one', () => {
    for (const [template, members] of [
      [
        'boxed-tote',
        {
          a: { along: ['front.top', 'back.top'], kind: 'coil zip', 'stops short': '8 mm' },
          b: { along: ['front.side left', 'front.side right'], kind: 'cotton cord', 'stops short': '5 mm' },
        },
      ],
      ['bucket', { a: { along: 'body.top', kind: 'spring wire', ends: 'ring' }, b: { along: 'base.rim', kind: 'cotton cord' } }],
      [
        'satchel',
        {
          a: { along: 'front.around', kind: 'cotton cord', 'stops short': '10 mm' },
          b: { along: 'flap.top[20%..80%]', kind: 'plastic boning' },
        },
      ],
    ] as const) {
      const bag = parseBag({ ...JSON.parse(newBag(template)), members }),
        draft = draftPanels(bag),
        meshed = memberLengths(bag, meshPanels(bag, draft, { edgeLength: 0.03 }));
      for (const m of bag.members!) {
        const cuts = memberCuts(bag, draft, m),
          sum = cuts.reduce((a, b) => a + b, 0);
        expect(Math.abs(sum - meshed.get(m.name)!), `${template}, ${m.name}: ${sum} m in ${cuts.length} for ${meshed.get(m.name)} m`).toBeLessThan(1e-9);
      }
    }
  });

  test('piping round the mouth is one cord less 8 mm at both ends, boning of two edges is 2 x its edge less 30 mm, a frame bought ready is 380 mm', () => {
    const bag = fitted(),
      draft = draftPanels(bag),
      list = cutList(bag);
    const edge = (panel: string, name: string): number => draft.panels.find((p) => p.name === panel)!.edges.find((e) => e.name === name)!.length;
    const of = (name: string) => list.tapes.filter((t) => t.name === name);
    expect(of('piping').map((t) => [t.count, t.length])).toEqual([[1, expect.closeTo(edge('front', 'top') + edge('back', 'top') - 0.016, 12)]]);
    expect(of('boning').map((t) => [t.count, t.length])).toEqual([[2, expect.closeTo(edge('front', 'side left') - 0.03, 12)]]);
    expect(of('frame').map((t) => [t.count, t.length])).toEqual([[1, 0.38]]);
    expect(of('piping')[0]!.mass).toBeCloseTo(memberFigures(bag.members![0]!).lineMass * of('piping')[0]!.length, 12);
    expect(of('piping')[0]!.how).toBe('along its line on front, back; 8 mm left out at each end, clear of the seams');
    expect(cutListText(list)).toContain('  piping: 1 x ');
  });

  test('piping in a seam is covered by a bias strip of its cloth: round the cord and both allowances wide, its seam and a lap long; a cord in a rim, which its hem holds, by none', () => {
    const { bag } = bags.find((b) => b.name === 'piped-tote')!,
      list = cutList(bag),
      draft = draftPanels(bag),
      cords = bag.members!.filter((m) => m.kind.endsWith('cord') && m.name !== 'rim'),
      covers = list.tapes.filter((t) => t.name.startsWith('cover of '));
    expect(covers.map((c) => c.name)).toEqual(cords.map((m) => `cover of ${m.name}`));
    for (const [i, c] of covers.entries()) {
      const m = cords[i]!,
        runs = m.runs.reduce((sum, r) => sum + draft.panels.find((p) => p.name === r.panel)!.edges.find((e) => e.name === r.edge)!.length * (r.to - r.from), 0);
      expect(c.length).toBeCloseTo(runs + 0.02, 9);
      // Common practice, no source: strips of 25 to 30 mm for cords of 3 to 6 mm, at allowances of 6 to 10 mm.
      const { size } = memberFigures(m);
      expect(c.width - Math.PI * size).toBeCloseTo(2 * Math.max(...bag.seams.map((s) => s.allowance)), 9);
      expect(c.material).toBe('canvas10');
      expect(c.how).toContain('on the bias');
    }
    expect(cutList(fitted()).tapes.filter((t) => t.name.startsWith('cover of '))).toEqual([]);
  });

  test('a zip has 25 mm of tape beyond its chain at each end, a drawstring 100 mm to tie, or as stated; a slider and both parts of a magnet are bought by the piece', () => {
    const duffel = bags.find((b) => b.name === 'barrel-duffel')!.bag,
      zip = duffel.closures!.find((c) => 'sides' in c)!,
      pouch = bags.find((b) => b.name === 'drawstring-pouch')!.bag,
      cord = pouch.closures!.find((c) => 'along' in c)!;
    if (!('sides' in zip) || !('along' in cord)) throw new Error('no zip or no cord');
    const chain = cutList(duffel, undefined, {}, { zipEnds: 0 }).tapes.find((t) => t.name === zip.name)!.length;
    expect(cutList(duffel).tapes.find((t) => t.name === zip.name)!.length - chain).toBeCloseTo(0.05, 12);
    expect(cutList(pouch).tapes.find((t) => t.name === cord.name)!.length).toBeCloseTo(cord.length + 0.2, 12);
    expect(cutList(pouch, undefined, {}, { cordEnds: 0.15 }).tapes.find((t) => t.name === cord.name)!.length).toBeCloseTo(cord.length + 0.3, 12);
    expect(cutList(duffel).parts.find((p) => p.name === zip.name)).toMatchObject({ kind: 'zip slider', count: 1, mass: zip.sliderMass });
    expect(cutList(bags.find((b) => b.name === 'satchel')!.bag).parts).toMatchObject([{ name: 'magnet', count: 1, mass: 0.012, on: ['flap', 'front'] }]);
    expect(cutList(fitted()).parts.map((p) => [p.name, p.count])).toEqual([
      ['feet', 2],
      ['snap', 1],
    ]);
  });
});

describe('the finished bag by part', () => {
  const weighed = (bag: Bag, option: string, edgeLength: number): number => {
    const stance = { ...bag.stances[0]!, closed: [], contents: [] } as unknown as Bag['stances'][number];
    return weigh(prepareScene({ ...bag, stances: [stance] }, { option, edgeLength })).massKg;
  };

  test('of all twelve templates, every option, and of a tote with members, hardware and a snap: masses come to what the bag weighs when it is settled, to 1e-9', () => {
    for (const { name, bag } of [...bags, { name: 'fitted tote', bag: fitted() }])
      for (const o of bag.options) {
        const sum = finishedParts(bag, o.name, 0.05).reduce((a, p) => a + p.mass, 0),
          whole = weighed(bag, o.name, 0.05);
        expect(Math.abs(sum / whole - 1), `${name}, ${o.name}: ${sum} kg by part for ${whole} kg`).toBeLessThan(1e-9);
      }
  });

  test('they name each panel, strap, member, piece of hardware and closure once', () => {
    const bag = fitted(),
      parts = finishedParts(bag, undefined, 0.05).map((p) => `${p.kind} ${p.name}`);
    expect(parts).toEqual([
      ...bag.panels.map((p) => `panel ${p.name}`),
      ...bag.straps.map((s) => `strap ${s.name}`),
      'member piping',
      'member boning',
      'member frame',
      'hardware feet',
      'closure snap',
    ]);
  });
});

describe('costs from a shelf', () => {
  const shelf = parseShelf({
    shelf: 1,
    name: 'test shelf',
    currency: 'EUR',
    items: {
      canvas: { material: 'canvas10', use: 'shell', width: '1.4 m', price: { 'per metre': 10 }, stock: '0.4 m' },
      hide: { material: 'chrome16', use: 'shell', price: { 'per m2': 50 }, waste: '20 %' },
      cotton: { material: 'poplin', use: 'lining', width: '0.9 m', price: { 'per metre': 4 } },
      board: { material: 'pp1', use: 'board', sheet: ['200 mm', '400 mm'], price: { 'per sheet': 3 } },
    },
  });
  const [tote, duffel] = ['boxed-tote', 'barrel-duffel'].map((name) => bags.find((b) => b.name === name)!.bag) as [Bag, Bag];

  test('cloth is its lay at 10 a metre on the width of the shelf, short of what the stock lacks; two base boards of 375 x 48 mm take one sheet; foam has no price, so there is no total', () => {
    const list = cutList(tote, 'canvas, foam, poplin, base board', {}, { shelf });
    const of = (m: string) => list.materials.find((x) => x.material === m)!;
    expect(of('canvas10').bought).toMatchObject({ item: 'canvas', unit: 'm', amount: 0.447, cost: expect.closeTo(4.47, 9), short: expect.closeTo(0.047, 9) });
    // On 900 mm two pieces of 503 mm lie one behind the other.
    expect(of('poplin').bought!.cost).toBeCloseTo(4 * of('poplin').lay!.length, 12);
    expect(of('poplin').lay!.width).toBe(0.9);
    expect(of('poplin').lay!.length).toBeGreaterThan(0.8);
    expect(of('pp1')).toMatchObject({ sheets: 1, bought: { unit: 'sheets', amount: 1, cost: 3 } });
    expect(of('foam').bought).toBeNull();
    expect(list.cost).toMatchObject({
      currency: 'EUR',
      total: null,
      known: expect.closeTo(4.47 + 3 + of('poplin').bought!.cost!, 9),
      without: [expect.stringContaining('foam'), 'cotton webbing 25-38 mm', 'thread'],
    });
    expect(cutListText(list)).toContain('no price on the shelf for');
    const row = cutListCsv(list)
      .split('\r\n')
      .find((l) => l.startsWith('roll,') && l.includes(',canvas10,'))!;
    expect(row.endsWith(',0.447,m,4.47,EUR')).toBe(true);
  });

  test('a hide is its area over what the waste of the shelf leaves, at 50 a m2; the maker’s own waste goes before', () => {
    const satchel = bags.find((b) => b.name === 'satchel')!.bag;
    const [list, own] = [{}, { waste: 0.5 }].map((o) => cutList(satchel, undefined, {}, { shelf, ...o }));
    const m = list!.materials[0]!;
    expect(m.bought!.cost).toBeCloseTo((50 * m.area) / 0.8, 9);
    expect(list!.cost).toMatchObject({ known: expect.closeTo(m.bought!.cost!, 12), total: null });
    expect(own!.cost!.known).toBeCloseTo((50 * m.area) / 0.5, 9);
  });

  test('trims: webbing by the metre, a zip of its size, its slider, feet and a snap by the piece, thread by whole reels; what none has a price for is named, and with all prices there is a total', () => {
    const base = {
      cloth: { material: 'canvas10', use: ['shell', 'lining'], width: '1.4 m', price: { 'per metre': 10 } },
      cotton: { material: 'poplin', use: 'lining', width: '0.9 m', price: { 'per metre': 4 } },
      'wide webbing': { material: 'web_cotton', use: 'trim', size: '38 mm', price: { 'per metre': 3 } },
      webbing: { material: 'web_cotton', use: 'trim', size: '25 mm', price: { 'per metre': 2 }, stock: '1 m' },
      zip: { material: 'coil zip', use: 'trim', size: '5 mm', price: { 'per metre': 3 } },
      slider: { material: 'zip slider', use: 'trim', price: { 'per piece': 0.5 }, stock: '1 piece' },
      thread: { material: 'thread', use: 'trim', reel: '20 m', price: { 'per reel': 2 } },
    };
    const priced = parseShelf({ shelf: 1, name: 'all of it', currency: 'EUR', items: base });
    const list = cutList(duffel, undefined, {}, { shelf: priced });
    const zip = list.tapes.find((t) => t.material === 'coil zip')!,
      straps = cutList(tote, undefined, {}, { shelf: priced }).tapes.filter((t) => t.material === 'web_cotton');
    expect(zip.bought).toMatchObject({ item: 'zip', unit: 'm', amount: expect.closeTo(zip.length, 12), cost: expect.closeTo(3 * zip.length, 12), short: null });
    expect(list.parts.find((p) => p.kind === 'zip slider')!.bought).toMatchObject({ unit: 'pieces', amount: 1, cost: 0.5, short: 0 });
    expect(straps.length).toBeGreaterThan(0);
    for (const s of straps) {
      // An inch: 25 mm as webbings are named.
      expect(s.width, 'of the tote, m').toBeCloseTo(0.0254, 9);
      expect(s.bought).toMatchObject({
        item: 'webbing',
        amount: expect.closeTo(s.length * s.count, 12),
        short: expect.closeTo(Math.max(0, s.length * s.count - 1), 12),
      });
    }
    const thread = list.thread.reduce((sum, r) => sum + r.thread, 0),
      reels = Math.ceil(thread / 20);
    expect(list.threadBought).toMatchObject({ unit: 'reels', amount: reels, cost: 2 * reels });
    const sum = [...list.materials, ...list.tapes, ...list.parts, { bought: list.threadBought }].reduce((s, m) => s + (m.bought?.cost ?? 0), 0);
    expect(list.cost!.known).toBeCloseTo(sum, 9);
    expect(list.cost!.without).toEqual(
      [...list.materials, ...list.tapes]
        .filter((m) => m.bought === null)
        .map((m) => ('name' in m && 'lay' in m ? m.name : (m as { materialName: string }).materialName)),
    );
    const { slider: _, ...rest } = base;
    const less = cutList(duffel, undefined, {}, { shelf: parseShelf({ shelf: 1, items: rest }) }).cost!;
    expect(less.without).toContain('slider and stops of the coil zip');
    expect(less.total).toBeNull();
    const csv = cutListCsv(list).split('\r\n');
    expect(csv.find((l) => l.startsWith('thread,all rows,'))).toMatch(new RegExp(`,${reels},reels,${2 * reels},EUR$`));
    expect(cutListText(list)).toContain(`${reels} ${reels === 1 ? 'reel' : 'reels'} of thread`);
  });

  test('a piece that no sheet holds is told with its path and the sheet that would do', () => {
    const small = parseShelf({ shelf: 1, items: { board: { material: 'pp1', use: 'board', sheet: ['200 mm', '300 mm'], price: { 'per sheet': 3 } } } });
    let faults: BagError['faults'] = [];
    try {
      cutList(tote, 'canvas, foam, poplin, base board', {}, { shelf: small });
    } catch (error) {
      faults = (error as BagError).faults;
    }
    expect(faults.map((f) => [f.path.startsWith('pieces.'), f.got, f.expected])).toEqual([
      [true, 'a sheet of 200 mm x 300 mm', expect.stringMatching(/a sheet of at least .* x .* mm/)],
    ]);
  });
});

describe('the JSON of the list', () => {
  test('keeps to its schema, version 2, for all twelve templates, a fitted tote and one with costs, there and back through text', () => {
    const shelf = parseShelf({ shelf: 1, items: { c: { material: 'canvas10', use: 'shell', width: '1.4 m', price: { 'per metre': 10 } } } });
    const lists = [...bags.map(({ bag }) => cutList(bag)), cutList(fitted(), undefined, {}, { shelf, finished: finishedParts(fitted(), undefined, 0.05) })];
    for (const list of lists) {
      const read = CutListFile.safeParse(JSON.parse(JSON.stringify(cutListRecord(list))));
      expect(read.success ? [] : read.error.issues, list.bag).toEqual([]);
    }
    const broken = { ...cutListRecord(lists[0]!), version: 1 };
    expect(CutListFile.safeParse(broken).success).toBe(false);
  });

  test('a name that a spreadsheet would take for a formula is kept text, and negative figures stay figures', () => {
    const list = cutList(fitted());
    const odd = { ...list, tapes: list.tapes.map((t, i) => (i === 0 ? { ...t, name: '=1+1', mass: -0.5 } : t)) };
    const line = cutListCsv(odd)
      .split('\r\n')
      .find((l) => l.includes('1+1'))!;
    expect(line.split(',')[1]).toBe("'=1+1");
    expect(line.split(',')[9]).toBe('-0.5');
  });
});

describe('what a caller states', () => {
  test('every figure out of its range is told at once with its path, a wrong option with what there is', () => {
    const told = (run: () => unknown): string[] => {
      try {
        run();
      } catch (error) {
        if (!(error instanceof BagError)) throw error;
        return error.faults.map((f) => f.path);
      }
      return [];
    };
    const bag = fitted();
    const wrong = { width: 0, gap: Number.NaN, waste: '30' as never, stitch: 1, widths: { poplin: 99 } };
    expect(told(() => cutList(bag, undefined, {}, wrong))).toEqual(['width', 'gap', 'waste', 'stitch', 'widths.poplin']);
    expect(told(() => cutList(bag, undefined, { boardMargin: -1, strapTurn: 2 }))).toEqual(['boardMargin', 'strapTurn']);
    expect(told(() => cutList(bag, 'none'))).toEqual(['options']);
    expect(told(() => cutList(null as never))).toEqual(['bag']);
  });
});
