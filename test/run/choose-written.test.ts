/** A choice from a shelf put into the bag file as an option is the stack that was settled: written, parsed again, the same laminates. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { BagForm } from '../../src/app/page/bag-form.ts';
import { withChosen } from '../../src/app/shelf/option.ts';
import { layUp, newShelf, parseBag, parseShelfDocument, prepareShelf, writtenChoice } from '../../src/index.ts';

const read = (name: string): BagForm => JSON.parse(readFileSync(new URL(`../../demos/${name}.bag.json`, import.meta.url), 'utf8'));
const start = parseShelfDocument(newShelf());

/** Every `step`-th stack of a shelf, put into the file and read again: names of those whose laminates are not those that were laid up, and how many were looked at. */
async function unlike(form: BagForm, shelf: typeof start, step: number): Promise<{ readonly wrong: string[]; readonly looked: number }> {
  const bag = parseBag(form),
    { all } = await prepareShelf(bag, shelf.shelf, {});
  const wrong: string[] = [];
  let looked = 0;
  for (let i = 0; i < all.length; i += step) {
    const { bag: made, laminates, stack } = all[i]!;
    const next = withChosen(form, writtenChoice(bag, made, shelf.document), stack.name.slice(0, 60).trim());
    const own = layUp(parseBag(next.form), next.option, 'mid');
    looked++;
    const same = laminates.flat().every((l, k) => {
      const o = own.flat()[k]!;
      const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
      return near(l.arealMass, o.arealMass) && near(l.thickness, o.thickness) && l.bending.every((v, n) => near(v, o.bending[n]!));
    });
    if (!same) wrong.push(stack.name);
  }
  return { wrong, looked };
}

describe('a choice written into the bag file', () => {
  it('of the harbour tote and the shelf to start from: every 7th stack has the laminates that were settled, to 1e-9', async () => {
    const { wrong, looked } = await unlike(read('harbour-tote'), start, 7);
    expect(looked).toBeGreaterThan(20);
    expect(wrong).toEqual([]);
  });

  it('with regions (pocket tote), and with a material of the same name in the bag: the bag keeps its own, the option has that of the shelf', async () => {
    const form = read('pocket-tote');
    const own = { name: 'another', like: 'canvas10', mass: '250 g/m2', overhang: '40 mm' };
    const { wrong, looked } = await unlike({ ...form, materials: { ...(form.materials as object), 'canvas from the market': own } }, start, 9);
    expect(looked).toBeGreaterThan(5);
    expect(wrong).toEqual([]);
  });

  it('put in twice it is two options; the options that there were stay as written', async () => {
    const form = read('harbour-tote'),
      bag = parseBag(form),
      { all } = await prepareShelf(bag, start.shelf, {});
    const chosen = writtenChoice(bag, all[3]!.bag, start.document);
    const once = withChosen(form, chosen, 'mine'),
      twice = withChosen(once.form, chosen, 'mine');
    expect([once.option, twice.option]).toEqual(['mine', 'mine 2']);
    expect(Object.keys(twice.form.options)).toEqual([...Object.keys(form.options), 'mine', 'mine 2']);
    for (const [name, stack] of Object.entries(form.stacks)) expect(twice.form.stacks[name]).toBe(stack);
    expect(parseBag(twice.form).options.length).toBe(bag.options.length + 2);
  });
});
