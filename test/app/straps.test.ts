/** The written bag, edited by the fields for straps. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { withHandles } from '../../src/app/controls/stance-form.ts';
import { type BagForm, endsOf, idleParameters, loadOf, withAnchor, withLoad, withOption, withStrapLength } from '../../src/app/page/bag-form.ts';
import { steppedMass, withMassUnit, withUnitOf } from '../../src/app/page/format.ts';
import { alongTrack, nearestOn } from '../../src/app/straps/anchor-tracks.ts';
import { changed, type Entry, entryFor, followed, inUnits } from '../../src/app/straps/entry.ts';
import { hangChoices, hungAs } from '../../src/app/straps/hung-from.ts';
import { cannotLie } from '../../src/app/straps/place.ts';
import { read } from '../../src/app/straps/read-entry.ts';
import { words } from '../../src/app/straps/words.ts';
import { anchorPlace, newBag, templates } from '../../src/bag/index.ts';
import { parseBag } from '../../src/bag/parse.ts';
import { usualDistances, usualThing } from '../../src/index.ts';

const demo = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
const form: BagForm = {
  ...demo,
  stances: undefined,
  stacks: { ...demo.stacks, web: ['web_cotton'] },
  straps: {
    handle: { width: '25 mm', length: '560 mm', stack: 'web', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored', 'also on': ['back'] },
    long: { width: '30 mm', length: '1 m', stack: 'web', from: { panel: 'left', 'from left': 'D/2' }, to: { panel: 'right', 'from right': 'D/2' } },
  },
};

describe('straps in the written bag', () => {
  it('a mirrored strap has 1 end of its own, a strap between two panels 2, each with its side as written', () => {
    expect(endsOf(form, 'handle')).toEqual([{ end: 'from', side: 'from left', written: '90 mm' }]);
    expect(endsOf(form, 'long').map((e) => `${e.end} ${e.side} ${e.written}`)).toEqual(['from from left D/2', 'to from right D/2']);
    expect(endsOf(form, 'none')).toEqual([]);
  });

  it('an end moved from 90 to 100 mm and a strap 600 mm long leave everything else as written; the file still parses, both patches 10 mm further in', () => {
    const moved = withStrapLength(withAnchor(form, 'handle', 'from', 'from left', '100 mm'), 'handle', '600 mm');
    expect(moved.straps?.handle).toEqual({ ...form.straps?.handle, length: '600 mm', from: { panel: 'front', 'from left': '100 mm' } });
    expect(moved.straps?.long).toBe(form.straps?.long);
    const [before, after] = [parseBag(form), parseBag(moved)].map((bag) => bag.straps[0].anchors.map((a) => a.at[0]));
    expect(after[0] - before[0]).toBeCloseTo(0.01, 9);
    expect(after[1] - before[1]).toBeCloseTo(-0.01, 9);
  });

  it('a load of 2 kg in a file without stances writes the 2 it has by default, and taken out again leaves the same bag', () => {
    const bag = parseBag(form);
    const loaded = withLoad(form, bag, 'hung', '2 kg');
    expect(Object.keys(loaded.stances ?? {})).toEqual(['standing', 'hung']);
    expect(loadOf(loaded, 'hung')).toBe('2 kg');
    const hung = parseBag(loaded).stances[1];
    expect(hung.kind === 'hung' && hung.load?.mass).toBeCloseTo(2, 12);
    expect(parseBag(withLoad(loaded, bag, 'hung', '')).stances).toEqual(bag.stances);
  });

  it('the fill of 0.8 that a load is written with stays when its mass is changed', () => {
    const own = { ...form, stances: { hung: { load: { mass: '1 kg', fill: 0.8 } } } };
    expect(withLoad(own, parseBag(own), 'hung', '3 kg').stances?.hung.load).toEqual({ mass: '3 kg', fill: 0.8 });
  });
});

it('masses step by 0.25 or 1 kg and by 0.5 or 2 lb down to nothing, and a bare figure takes the unit that stood there', () => {
  expect(['', '2 kg', '1.9 kg'].map((w) => steppedMass(w, 1, false))).toEqual(['0.25 kg', '2.25 kg', '2.25 kg']);
  expect(steppedMass('2 kg', 1, true)).toBe('3 kg');
  expect(steppedMass('4 lb', -1, false)).toBe('3.5 lb');
  expect(steppedMass('0.25 kg', -1, false)).toBe('');
  expect(steppedMass('heavy', 1, false)).toBeNull();
  expect([withMassUnit('3', '2 lb'), withMassUnit('3', ''), withMassUnit('500 g', '2 kg')]).toEqual(['3 lb', '3 kg', '500 g']);
});

it('a strap moved to a plain size leaves 2 parameters without effect: its own, and the one that only this one was written with', () => {
  const linked: BagForm = {
    ...form,
    parameters: { ...demo.parameters, inset: '0.3*third', third: 'W', handle: '560 mm' },
    straps: { handle: { ...form.straps?.handle, length: 'handle', from: { panel: 'front', 'from left': 'inset' } } },
  };
  expect([...idleParameters(linked)]).toEqual([]);
  // A name told in the note is not thereby in use.
  const moved = withAnchor({ ...linked, note: 'the inset' }, 'handle', 'from', 'from left', '90 mm');
  expect([...idleParameters(moved)].sort()).toEqual(['inset', 'third']);
});

it('a bare number keeps the unit that stood there, a bare fraction is in inches whatever stood there', () => {
  expect([withUnitOf('12', '300 mm'), withUnitOf('12', '2 m'), withUnitOf('12 cm', '300 mm')]).toEqual(['12 mm', '12 m', '12 cm']);
  expect(['12 3/8', '12-3/8', '3/8', '12½'].map((t) => withUnitOf(t, '300 mm'))).toEqual(['12 3/8 in', '12-3/8 in', '3/8 in', '12½ in']);
  expect(withUnitOf('W/2', '300 mm')).toBe('W/2');
});

it('hung with 5 kg, the fields for straps start from the stance on the mat and its load; another stance brings its own, a typed one stays', () => {
  const bag = parseBag(readFileSync(new URL('../../demos/market-tote.bag.json', import.meta.url), 'utf8'));
  const first = entryFor(bag, null, 'canvas alone', 'hung with 5 kg');
  expect([first.stance, first.load]).toEqual(['hung with 5 kg', '5 kg']);
  expect(entryFor(bag, { ...first, load: '1 kg' }, 'canvas alone').load).toBe('1 kg');
  expect(entryFor(bag, { ...first, stance: 'gone' }, 'canvas alone', 'hung with 2 kg').load).toBe('2 kg');
});

it('a new option is called by the letter its column has, where that is free', () => {
  const two: BagForm = { ...form, options: { canvas: {}, leather: {} } };
  expect(withOption(two, 'canvas').option).toBe('C');
  expect(withOption({ ...form, options: { B: {} } }, 'B').option).toBe('C');
});

it('a bag without straps is offered two handles where it has an open front and back, and they can be hung; where it has none it is sent to the drafting table', () => {
  for (const t of templates()) {
    const bag = parseBag(t.text);
    const open = (['front', 'back'] as const).every((role) => bag.panels.some((p) => p.role === role && p.openings.length > 0));
    const made = withHandles(JSON.parse(t.text), bag);
    expect(made !== null, t.title).toBe(bag.straps.length === 0 && open);
    if (made) expect(parseBag(JSON.stringify(made.form)).straps.map((s) => s.name)).toEqual(['handle', 'handle on back']);
  }
  expect(words.drawStraps).toContain('Cut it');
});

it('a bag hangs from what its file says, or from a hook, a bar, a shoulder or two hands that it does not state', () => {
  const bag = parseBag(newBag('boxed-tote'));
  const choices = hangChoices(bag).map((c) => c.value);
  expect(choices.slice(-4)).toEqual(['usual:hook', 'usual:bar', 'usual:shoulder', 'usual:hands']);
  for (const choice of choices) {
    const hung = hungAs(bag, choice, { diameter: 0.03, slope: 0, apart: 0.2, things: [], like: '', alone: '' });
    const stance = hung.bag.stances.find((s) => s.name === hung.stance);
    expect(stance?.kind).toBe('hung');
    if (choice.startsWith('usual:')) expect(stance).toMatchObject({ from: choice.slice(6), straps: bag.straps.map((s) => s.name), load: null });
    const { ready } = read(bag, changed(bag, entryFor(bag, null, bag.options[0]!.name), { stance: choice }, 'metric'), 'metric');
    expect(ready?.ask.stance).toBe(hung.stance);
    // The page's own bag is left as it is.
    expect(ready?.bag).toBe(bag);
  }
  // Another bag's choice that this one has not is not kept; one of the usual ones is.
  const other = parseBag(newBag('crescent'));
  expect(entryFor(other, entryFor(bag, { ...entryFor(bag, null, ''), stance: 'usual:bar' }, ''), '').stance).toBe('usual:bar');
});

it('boxed tote 15 x 14 x 4 in: the finished corner lies half the depth, 2 in, inside the side seam; a flat tote has none', () => {
  const boxed = parseBag(newBag('boxed-tote'));
  for (const end of [0, 1] as const) {
    const place = anchorPlace(boxed, boxed.straps[0]!, end);
    console.log(place);
    expect(place.fromSide - place.fromCorner!).toBeCloseTo(2 * 0.0254, 9);
  }
  const flat = parseBag(newBag('flat-tote'));
  expect(anchorPlace(flat, flat.straps[0]!, 0).fromCorner).toBeNull();
});

it('spacing is judged against the finished front: of the boxed tote 15 in wide 6 in apart is 0.4 of it, and the distances tried reach from a third to two thirds', () => {
  const bag = parseBag(newBag('boxed-tote'));
  const [W, inch] = [15 * 0.0254, 0.0254];
  const { from, to } = usualDistances(bag, 'handle')!;
  // Two thirds of the front apart: a sixth of it in from the corner, which lies 2 in inside the side seam.
  expect(from).toBeCloseTo(2 * inch + W / 6, 3);
  // A third would be 127 mm, more than a hand's breadth.
  expect(to).toBeCloseTo(2 * inch + W / 3, 3);
  const drawn = anchorPlace(bag, bag.straps[0]!, 0);
  expect((W - 2 * drawn.fromCorner!) / W).toBeCloseTo(0.4, 9);
});

/** A tote whose one stance stands, filled with 5 kg two thirds high, a bottle of its own size and a book. */
const filled: BagForm = {
  ...form,
  stances: {
    full: { kind: 'standing', load: { mass: '5 kg', fill: 0.66 }, contents: [{ thing: 'bottle', diameter: '80 mm' }, { thing: 'book' }] },
    hung: { kind: 'hung', from: 'hook' },
  },
};
const hungOf = (bag: ReturnType<typeof parseBag>, e: Entry) => {
  const { ready, faults } = read(bag, e, 'metric');
  if (!ready) throw new Error(JSON.stringify(faults));
  const stance = ready.ask.bag.stances.find((s) => s.name === ready.ask.stance);
  if (stance?.kind !== 'hung') throw new Error('it does not hang');
  return { ...stance, mass: ready.ask.load };
};

it('what stands on the mat with 5 kg, a bottle and a book hangs with them from a hook, a shoulder and a bar: load, how high it fills, things and their sizes', () => {
  const bag = parseBag(filled);
  const first = entryFor(bag, null, bag.options[0]!.name, 'full');
  for (const choice of ['hung', 'usual:shoulder', 'usual:bar', 'usual:hands']) {
    const e = choice === 'hung' ? first : changed(bag, first, { stance: choice }, 'metric');
    const hung = hungOf(bag, e);
    expect(hung.mass, choice).toBeCloseTo(5, 9);
    expect(hung.load?.fill, choice).toBe(0.66);
    expect(
      hung.contents?.map((t) => t.thing),
      choice,
    ).toEqual(['bottle', 'book']);
    expect(hung.contents?.[0]?.body, choice).toMatchObject({ diameter: 0.08 });
  }
  // The stance of the file that hangs is empty, and choosing it says so.
  expect(changed(bag, changed(bag, first, { stance: 'usual:bar' }, 'metric'), { stance: 'hung' }, 'metric')).toMatchObject({ load: '', things: [] });
  expect(changed(bag, first, { like: '' }, 'metric')).toMatchObject({ load: '', things: [] });
});

it('contents that nobody touched follow the file from 5 to 3 kg, what was typed stays; a picked thing is one of usual size', () => {
  const bag = parseBag(filled);
  const first = entryFor(bag, null, bag.options[0]!.name, 'full');
  const now = parseBag({ ...filled, stances: { ...filled.stances, full: { kind: 'standing', load: '3 kg' } } });
  expect(followed(bag, now, first, first.option, 'full', 'metric')).toMatchObject({ load: '3 kg', things: [] });
  expect(followed(bag, now, { ...first, load: '1 kg' }, first.option, 'full', 'metric').load).toBe('1 kg');
  const own = parseBag({ ...form, stances: { hung: { kind: 'hung', contents: [{ thing: 'tablet' }] } } }).stances[0];
  expect(own?.kind === 'hung' && own.contents).toEqual([usualThing('tablet')]);
});

it('one strap alone carries and is said in the stance; in two hands that is told beside the field, a slope of 60 deg and 500 mm of hook as well', () => {
  const bag = parseBag(newBag('boxed-tote'));
  const first = entryFor(bag, null, bag.options[0]!.name);
  const [strap] = bag.straps;
  const alone = changed(bag, first, { stance: 'usual:shoulder', alone: strap!.name }, 'metric');
  expect(hungOf(bag, alone)).toMatchObject({ straps: [strap!.name], name: `hung from a shoulder, by ${strap!.name} alone` });
  expect(read(bag, { ...changed(bag, first, { stance: 'usual:hands' }, 'metric'), alone: strap!.name }, 'metric').faults).toHaveProperty('alone');
  expect(read(bag, { ...alone, slope: '60', diameter: '500' }, 'metric').faults).toEqual({
    slope: expect.stringContaining('45'),
    diameter: expect.any(String),
  });
  expect(hungOf(bag, { ...alone, slope: '20' }).slope).toBeCloseTo((20 * Math.PI) / 180, 12);
});

it('lengths begin in the unit chosen, inches to a sixteenth within the range that lies on the panel, and go over into the other', () => {
  const bag = parseBag(newBag('boxed-tote'));
  const range = usualDistances(bag, 'handle')!;
  const inch = entryFor(bag, null, bag.options[0]!.name, '', 'inch');
  for (const key of ['from', 'to', 'mesh', 'diameter'] as const) expect(inch[key], key).toMatch(/ in$/);
  const { ready } = read(bag, inch, 'inch');
  expect(ready!.ask.from).toBeGreaterThanOrEqual(range.from - 1e-9);
  expect(ready!.ask.to).toBeLessThanOrEqual(range.to + 1e-9);
  expect(ready!.ask.from - range.from).toBeLessThan(0.0016);
  const metric = inUnits(inch, 'inch', 'metric');
  for (const key of ['from', 'to', 'mesh', 'diameter'] as const) expect(metric[key], key).toMatch(/ mm$/);
  // A bare number is in the unit chosen.
  expect(read(bag, { ...inch, from: '4', to: '5' }, 'inch').ready?.ask.from).toBeCloseTo(4 * 0.0254, 12);
  expect(read(bag, { ...metric, from: '80', to: '90' }, 'metric').ready?.ask.from).toBeCloseTo(0.08, 12);
});

it('anchors 5 mm from the side or past the middle cannot lie there, in the unit chosen; 100 mm can', () => {
  const bag = parseBag(form);
  expect(cannotLie(bag, 'handle', 0.005, 'metric')).toMatch(/^between 13 mm and .* mm: further/);
  expect(cannotLie(bag, 'handle', 0.4, 'inch')).toMatch(/ in and .* in: further/);
  expect(cannotLie(bag, 'handle', 0.1, 'metric')).toBeNull();
});

it('a hand 3 px off a track 100 px long over 100 mm finds 40 mm at its middle, and past its end says that it is one', () => {
  const track = { line: [[0.05, 10, 20] as const, [0.1, 60, 20] as const, [0.15, 110, 20] as const] };
  expect(alongTrack(track, 0.09)).toEqual([expect.closeTo(50, 9), 20]);
  expect(nearestOn(track, 50, 23)).toEqual({ distance: expect.closeTo(0.09, 12), off: 3, end: false });
  expect(nearestOn(track, 140, 20)).toEqual({ distance: 0.15, off: 30, end: true });
});
