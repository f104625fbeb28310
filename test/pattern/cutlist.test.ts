import { describe, expect, test } from 'vitest';
import { BagError } from '../../src/bag/index.ts';
import { materialBands } from '../../src/material/index.ts';
import { cutList, cutListCsv, cutListRecord, cutListText, laySvg } from '../../src/pattern/cutting.ts';
import { pair, templateBags } from './cut-bags.ts';

const bags = templateBags();
const named = (name: string) => bags.find((b) => b.name === name)!.bag;

describe('cutting lists', () => {
  test('of every option of the twelve templates at 1.4 m: a lay is at most 1.25 times the length that no lay can better, and says why where it is more than 1.25 times area over width', () => {
    let worst = 0;
    for (const { name, bag } of bags)
      for (const list of bag.options.map((o) => cutList(bag, o.name)))
        for (const m of list.materials) {
          if (!m.lay) continue;
          const ratio = m.lay.length / (m.lay.area / m.lay.width);
          expect(ratio, `${name}, ${list.option}, ${m.name}`).toBeGreaterThanOrEqual(1 - 1e-9);
          expect(m.reason === null, `${name}, ${list.option}, ${m.name}: ${ratio} times area over width`).toBe(ratio <= 1.25);
          const over = m.lay.length / m.lay.bound;
          expect(over, `${name}, ${list.option}, ${m.name}: ${m.lay.length} m for a bound of ${m.lay.bound} m by ${m.lay.boundBy}`).toBeLessThanOrEqual(1.25);
          worst = Math.max(worst, over);
        }
    console.log(`worst lay: ${worst.toFixed(3)} times what no lay can better`);
  });

  test('a seam of 200 mm in canvas of 0.61 mm, stitches of 2.5 mm, takes 200 x (2 + 2 x 1.22 x 0.4) = 595 mm of thread', () => {
    const bag = pair({ rectangle: { width: '300 mm', height: '200 mm' }, open: ['top'] }, { left: '10 mm', right: '10 mm', bottom: '10 mm' });
    const row = cutList(bag).thread.find((r) => r.name === 'seam sewn left')!;
    expect(row.thread, 'm; 301 by the formula of material/stitching.ts').toBeCloseTo(0.2 * (2 + 2 * 0.00122 * 400), 9);
  });

  test('masses are areas times areal mass, and come to the total', () => {
    const bag = pair({ rectangle: { width: '300 mm', height: '200 mm' }, open: ['top'] }, { left: '10 mm', right: '10 mm', bottom: '10 mm' });
    const list = cutList(bag);
    expect(list.pieces[0]!.mass, 'kg').toBeCloseTo(2 * 0.32 * 0.21 * materialBands('canvas10')!.arealMass[1], 9);
    for (const { bag: b } of bags) {
      const l = cutList(b);
      const sum =
        l.materials.reduce((s, m) => s + m.mass, 0) +
        l.tapes.reduce((s, t) => s + t.count * t.mass, 0) +
        l.parts.reduce((s, p) => s + p.count * (p.mass ?? 0), 0);
      expect(l.mass).toBeCloseTo(sum, 12);
    }
  });

  test('a hide is its net area over what the waste leaves: 30 % where none is stated, 0.359 m2 -> 0.513 m2', () => {
    const m = cutList(named('satchel')).materials[0]!;
    expect(m.hide! / m.area).toBeCloseTo(1 / 0.7, 9);
    expect(cutList(named('satchel'), undefined, {}, { waste: 0.25 }).materials[0]!.hide! / m.area).toBeCloseTo(1 / 0.75, 9);
  });

  test('pieces wider than the roll are all told, with the width that would do', () => {
    let faults: readonly { path: string; expected: string }[] = [];
    try {
      cutList(named('boxed-tote'), undefined, {}, { width: 0.45 });
    } catch (error) {
      if (!(error instanceof BagError)) throw error;
      faults = error.faults;
    }
    expect(faults.map((f) => f.path)).toEqual(
      ['canvas / duck 10 oz/yd2', 'poplin / broadcloth', 'needled fleece / wadding'].map((m) => `pieces.front, back (${m})`),
    );
    expect(faults[0]!.expected).toContain('at least 503 mm');
  });

  test('a width of its own for one material changes that lay alone', () => {
    const [plain, narrow] = [cutList(named('boxed-tote')), cutList(named('boxed-tote'), undefined, {}, { widths: { poplin: 0.9 } })];
    const lengths = (l: typeof plain) => Object.fromEntries(l.materials.map((m) => [m.material, m.lay!.length]));
    expect(lengths(narrow)['poplin']!).toBeGreaterThan(lengths(plain)['poplin']!);
    expect(lengths(narrow)['canvas10']).toBe(lengths(plain)['canvas10']);
  });

  test('CSV: as many cells in every line as in the head, and the areas of the pieces in it', () => {
    for (const { name, bag } of bags) {
      const list = cutList(bag);
      const lines = cutListCsv(list).trim().split('\r\n').map(cellsOf);
      for (const cells of lines) expect(cells.length, `${name}: ${cells.join('|')}`).toBe(lines[0]!.length);
      const area = lines[0]!.indexOf('area_m2');
      const sum = lines.filter((c) => c[0] === 'piece').reduce((s, c) => s + Number(c[area]), 0);
      expect(Math.abs(sum - list.pieces.reduce((s, p) => s + p.area, 0)), name).toBeLessThan(1e-5);
    }
  });

  test('the picture of a lay says that pieces of a board lie across, and of cloth that its grain is along the roll', () => {
    const list = cutList(named('satchel'), 'waxed canvas on board, plain flap');
    const told = (material: string): string => laySvg(list.materials.find((m) => m.material === material)!, 'satchel');
    expect(told('nwboard')).toContain('Some pieces lie across');
    expect(told('waxed10')).toContain('Grain along the roll; the roll runs');
  });

  test('same bag, same list, same pictures', () => {
    const [a, b] = [0, 1].map(() => {
      const list = cutList(named('envelope-clutch'), 'quilting cotton on board, fused flap');
      return [cutListText(list), cutListCsv(list), JSON.stringify(cutListRecord(list)), ...list.materials.map((m) => laySvg(m, 'clutch'))];
    });
    expect(a).toEqual(b);
    expect(a!.join()).not.toContain('NaN');
  });
});

describe('sewing order', () => {
  const order = (name: string, option?: string) => cutList(named(name), option).order.map((s) => s.text);
  const at = (steps: readonly string[], words: string): number => {
    const i = steps.findIndex((s) => s.includes(words));
    expect(i, `"${words}" in\n${steps.join('\n')}`).toBeGreaterThanOrEqual(0);
    return i;
  };

  test('backpack: hem and pocket while flat, the strip to a ring, the back, then the front; the lining last', () => {
    const steps = order('backpack');
    const places = ['Hem pocket', 'Sew pocket seam', 'Sew strip start', 'Sew back strip', 'Sew front strip', 'Sew the lining', 'Set the lining in'].map((w) =>
      at(steps, w),
    );
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  test('boxed tote: straps while flat, sides and bottom before the corners that cross them, and what the last seam closes off', () => {
    const steps = order('boxed-tote');
    expect(at(steps, 'end of strap handle')).toBeLessThan(at(steps, 'Sew bottom'));
    expect(Math.max(at(steps, 'Sew bottom'), at(steps, 'Sew left side'), at(steps, 'Sew right side'))).toBeLessThan(at(steps, 'Sew front right corner'));
    expect(steps.join('\n')).toContain('Look before you sew');
  });

  test('the backpack’s zip is sewn in before the seams that cross its ends, the satchel’s magnet set before its gusset, the pouch’s cord threaded last', () => {
    const steps = order('backpack');
    expect(at(steps, 'Sew zip (coil zip) to zip front and zip back')).toBeLessThan(at(steps, 'Sew strip end'));
    const satchel = order('satchel');
    expect(at(satchel, 'Set both parts of magnet (magnet) on flap and front')).toBeLessThan(at(satchel, 'Sew front gusset'));
    const pouch = order('drawstring-pouch');
    expect(at(pouch, 'Sew the channel of')).toBeLessThan(at(pouch, 'Thread '));
    expect(at(pouch, 'Thread ')).toBe(pouch.length - 1);
  });

  test('every seam that is sewn is in the list once, folds that are cut in one are not', () => {
    for (const { name, bag } of bags) {
      const steps = cutList(bag).order.map((s) => s.text);
      for (const seam of bag.seams)
        expect(steps.filter((s) => s.startsWith(`Sew ${seam.name}: `)).length, `${name}: ${seam.name}`).toBe(seam.type === 'fold' ? 0 : 1);
    }
  });
});

/** Cells of a line, quotes read as RFC 4180 has them. */
const cellsOf = (line: string): string[] => [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map((m) => m[1]?.replaceAll('""', '"') ?? m[2] ?? '');
