import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { type BagForm, groupsOf, withLayers, withOption } from '../../src/app/page/bag-form.ts';
import { angle, inOtherUnit, inReadersUnit, pull, told, withMassUnit, withPoint, withUnitOf } from '../../src/app/page/format.ts';
import { optionTitles } from '../../src/app/page/materials.ts';
import { openingStance } from '../../src/app/page/opening-stance.ts';
import { parseBag, templates } from '../../src/index.ts';

test('with millimetres chosen a sentence of the core has no inch in it, with inches no millimetre that a ruler shows', () => {
  const sentence = 'Its overhang is 53 mm, 188 mm (7 3/8 in) less than 240 mm (9 7/16 in) and it leans 12 deg.';
  expect(told(sentence, 'metric')).toBe('Its overhang is 53 mm, 188 mm less than 240 mm and it leans 12°.');
  expect(told(sentence, 'inch')).toBe('Its overhang is 2 1/8 in, 7 3/8 in less than 9 7/16 in and it leans 12°.');
  expect(told('a gap of 0.5 mm', 'inch')).toBe('a gap of 0.5 mm');
});

test.each([
  ['12', '380 mm', 'mm', '12 mm'],
  ['12', '15 in', 'mm', '12 in'],
  ['80', '0.4*H', 'mm', '80 mm'],
  ['80', '0.4*H', '', '80'],
  ['3/8', '10 mm', 'mm', '3/8 in'],
  ['1,3', '10 mm', 'mm', '1.3 mm'],
  ['1,3 mm', '10 mm', 'mm', '1.3 mm'],
  ['0.4*H', '10 mm', 'mm', '0.4*H'],
])('"%s" typed over "%s" (usual unit "%s") is %s', (typed, before, usual, expected) => {
  expect(withUnitOf(typed, before, usual)).toBe(expected);
});

test('"1,300 mm" may be thousands: it is not guessed, and the bag file refuses it with both spellings', () => {
  expect(withPoint('1,300 mm')).toBe('1,300 mm');
  expect(withPoint('max(1,2)')).toBe('max(1,2)');
  expect(withMassUnit('1,5', '')).toBe('1.5 kg');
});

test('a figure beside a dimension is in the other unit, and none stands beside millimetres where they alone are wanted', () => {
  expect(inOtherUnit(0.381, '15 in', 'metric')).toBe('');
  expect(inOtherUnit(0.3, '300 mm', 'metric')).toBe('');
  expect(inOtherUnit(0.3, '300 mm', 'both')).toBe('11 13/16 in');
  expect(inOtherUnit(0.3, '300 mm', 'inch')).toBe('');
  expect(inReadersUnit(0.3, '300 mm', 'inch')).toBe('11 13/16 in');
  expect(inReadersUnit(0.381, '15 in', 'metric')).toBe('381 mm');
  expect(inReadersUnit(0.1125, '4,5 in - 1,8 mm', 'metric')).toBe('4,5 in - 1,8 mm');
  expect(inReadersUnit(0.137, '0.4*H', 'inch')).toBe('0.4*H');
  expect(inReadersUnit(0.381, '15 in', 'both')).toBe('15 in');
  expect(inOtherUnit(0.137, '0.4*H', 'metric')).toBe('137 mm');
});

test('the angle of a heap is told to 5 degrees, any other to a tenth; a pull as what weighs as much', () => {
  expect(angle((47.8 * Math.PI) / 180, true)).toBe('about 50°');
  expect(angle((0.04 * Math.PI) / 180)).toBe('0°');
  expect(pull(9.80665, 'metric')).toBe('1.00 kg');
  expect(pull(9.80665, 'inch')).toBe('2.2 lb');
});

test('of the twelve templates the flat tote and the crescent, which have no base, open hung; the others stand', () => {
  const hung = templates().filter((t) => openingStance(parseBag(t.text)) === 'hung');
  expect(hung.map((t) => t.name).sort()).toEqual(['crescent', 'flat-tote']);
});

test('options whose front alone was changed keep their name and say what of; two that differ in the base alone do not read alike', () => {
  const source = readFileSync('demos/harbour-tote.bag.json', 'utf8');
  const form = JSON.parse(source) as BagForm;
  const bag = parseBag(source);
  const named = bag.options[0].name;
  const layers = { shell: 'canvas10', thickness: '', interfacing: 'foam', join: 'fused', lining: 'poplin' } as const;
  const walls = groupsOf(bag).get('wall')!;
  const changed = parseBag(JSON.stringify(withLayers(form, bag, named, walls, 'front and back', layers)));
  expect(optionTitles(changed, [named])[0]).toMatch(new RegExp(`^${named}; front and back canvas 10 oz, .*fused, .*poplin`));
  const { form: more, option } = withOption(form, named);
  const base = groupsOf(bag).get('base')!;
  const both = withLayers(withLayers(more, bag, option, walls, 'front and back', layers), bag, named, walls, 'front and back', layers);
  const apart = parseBag(JSON.stringify(withLayers(both, bag, option, base, 'base', { ...layers, interfacing: 'foam', lining: null })));
  const titles = optionTitles(apart, [named, option]);
  expect(titles[0]).not.toBe(titles[1]);
  expect(titles[1]).toContain('base');
});
