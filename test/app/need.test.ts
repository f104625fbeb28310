/** What the page says of a search: in the reader's unit, one figure a sentence, rigidities folded away. */
import { describe, expect, it } from 'vitest';
import { answerOf, span } from '../../src/app/need/answer.ts';
import type { NeedReport, NeedSearch, NeedStack, NeedTry } from '../../src/index.ts';

const tried = (factor: number, side: NeedTry['side'], word: NeedTry['word']): NeedTry => ({
  factor,
  side,
  word,
  fit: side === 'meets' ? 'meets' : 'too soft',
  margin: side === 'meets' ? 0.1 : -0.1,
  status: 'settled',
  residual: 1e-6,
});
const [missed, met] = [tried(3.74, 'soft', 'softens'), tried(4, 'meets', 'holds')];
const search = (more: Partial<NeedSearch> = {}): NeedSearch => ({
  band: 'mid',
  least: { met, missed, gap: 0.07, finer: { edgeLength: 0.016, vertices: 969, met, missed, agrees: true } },
  most: null,
  met: true,
  tries: [tried(1, 'soft', 'slumps'), missed, met],
  odd: [],
  ...more,
});
const stack = (more: Partial<NeedStack> = {}): NeedStack => ({
  stack: 'canvas',
  panels: ['front', 'back'],
  band: 'mid',
  arealMass: 0.4,
  rigidity: 7e-5,
  mean: 7e-5,
  overhang: 0.053,
  ...more,
});
const report = (more: Partial<NeedReport> = {}): NeedReport => ({
  bag: 'tote',
  option: 'plain',
  wanted: 'structured',
  panels: ['front', 'back'],
  every: true,
  edgeLength: 0.02,
  mass: 'stays',
  softBolt: true,
  vertices: 631,
  runs: 9,
  stacks: [stack(), stack({ band: 'low', overhang: 0.04 })],
  stances: [{ stance: 'standing', hung: false, mid: search(), low: search({ band: 'low' }) }],
  alone: [],
  ...more,
});

describe('what a stack has and needs', () => {
  it('53 mm four times as stiff is 53 x 4^(1/3) = 84 mm, told in millimetres, or as 3 5/16 in where inches are read', () => {
    const mm = answerOf(report(), 'metric').parts[0];
    expect(mm.lead).toBe('It needs a strip overhang of 84 mm. It has 53 mm.');
    expect(mm.lines[0]).toBe('Both sides were tried: at 82 mm it softens, at 84 mm it holds. The limit lies between them.');
    expect(mm.lines[1]).toBe('A finer mesh says the same.');
    const inches = answerOf(report(), 'inch').parts[0];
    expect(inches.lead).toBe('It needs a strip overhang of 3 5/16 in. It has 2 1/16 in.');
    expect([inches.lead, ...inches.lines].join(' ')).not.toMatch(/mm/);
    expect(span(0.0841, 'both')).toBe('3 5/16 in (84 mm)');
  });

  it('rigidities stand under "for the engineer" alone, with the gap of 7 % and every one of the 3 tries', () => {
    const { parts, engineer } = answerOf(report(), 'metric');
    const told = parts.flatMap((p) => [p.title, p.lead, ...p.lines]).join(' ');
    expect(told).not.toMatch(/N·m|rigidity|%/);
    const folded = parts[0].engineer.join(' ');
    expect(folded).toContain('4 times');
    expect(folded).toMatch(/N·m/);
    expect(folded).toContain('7 % of rigidity apart');
    expect(folded).toContain('tried: 53 mm slumps, 82 mm softens, 84 mm holds');
    expect(engineer.join(' ')).toContain('9 runs on a mesh of 20 mm, 631 points');
  });

  it('a soft bolt has 40 mm and needs 63; a cloth that is sure of it has a typical bolt of 84 mm', () => {
    const soft = answerOf(report(), 'metric').parts[1];
    expect(soft.title).toBe('With a soft bolt');
    expect(soft.lead).toBe('It needs a strip overhang of 63 mm. It has 40 mm.');
    expect(soft.lines).toContain('To be sure with a soft bolt too, choose a cloth whose typical bolt has 84 mm.');
  });

  it('where nothing helps, where all of it helps, and where it is too stiff, no overhang is asked for that was not settled', () => {
    const never = search({ least: null, met: false, tries: [tried(1, 'soft', 'slumps'), tried(224, 'soft', 'softens')] });
    expect(answerOf(report({ stances: [{ stance: 's', hung: false, mid: never, low: null }] }), 'metric').parts[0].lead).toMatch(
      /^Stiffness alone does not do it: nothing from 53 mm to 322 mm/,
    );
    const always = search({ least: null, tries: [tried(0.01, 'meets', 'slumps'), tried(1, 'meets', 'slumps')] });
    expect(answerOf(report({ stances: [{ stance: 's', hung: false, mid: always, low: null }] }), 'metric').parts[0].lead).toBe(
      'Even 11 mm would do. Nothing softer was tried.',
    );
    const half = tried(0.5, 'meets', 'softens');
    const stiff = search({ least: null, most: { met: half, missed: tried(0.53, 'stiff', 'holds'), gap: 0.07 }, tries: [half, tried(1, 'stiff', 'holds')] });
    const slouchy = answerOf(report({ wanted: 'slouchy', stances: [{ stance: 's', hung: false, mid: stiff, low: null }] }), 'metric').parts[0];
    expect(slouchy.lead).toContain('It is too stiff: 53 mm of overhang. It may have 42 mm at most.');
    expect(slouchy.bars[0].most).toBeCloseTo(0.053 * 0.5 ** (1 / 3), 6);
  });

  it('weight that grows with stiffness is told, and takes from the overhang; one part at a time is told in its order', () => {
    const grown = answerOf(report({ mass: 'grows' }), 'metric').parts[0];
    expect(grown.lead).toMatch(/It then weighs \d+ g\/m²\.$/);
    expect(grown.bars[0].needs).toBeLessThan(0.084);
    const alone = [
      { panels: ['front', 'back'], stance: 'standing', search: search() },
      { panels: ['base'], stance: 'standing', search: search({ least: null, met: false, tries: [tried(1, 'soft', 'slumps')] }) },
    ];
    const stacks = [stack(), stack({ panels: ['base'], stack: 'board' })];
    expect(answerOf(report({ stacks, alone, stances: [{ stance: 'standing', hung: false, mid: search(), low: null }] }), 'metric').alone).toEqual([
      { panels: 'front and back', says: 'needs 84 mm, has 53 mm' },
      { panels: 'base', says: 'alone does not do it' },
    ]);
  });

  it('a finer mesh that says otherwise asks for room; a stack that meets it in the search is told to be near its limit', () => {
    const edge = { met, missed, gap: 0.07, finer: { edgeLength: 0.016, vertices: 969, met: missed, missed, agrees: false } };
    const a = answerOf(report({ stances: [{ stance: 's', hung: false, mid: search({ least: edge }), low: null }] }), 'metric');
    expect(a.parts[0].lines).toContain('A finer mesh says otherwise. Choose a stack well on the right side of it.');
    expect(a.lines).toEqual([]);
    const own = search({
      least: { met: tried(0.5, 'meets', 'holds'), missed: tried(0.47, 'soft', 'softens'), gap: 0.07 },
      tries: [tried(1, 'meets', 'holds')],
    });
    expect(answerOf(report({ stances: [{ stance: 's', hung: false, mid: own, low: null }] }), 'metric').lines[0]).toMatch(/near its limit/);
  });
});
