import { describe, expect, it } from 'vitest';
import { ran } from './desk.ts';

/** A strip of 20 x 200 mm clamped upright, half as stiff as it must be. */
const strip = JSON.stringify({
  slumpline: 1,
  name: 'Strip',
  wanted: 'structured',
  panels: {
    strip: {
      role: 'front',
      rectangle: { width: '20 mm', height: '200 mm' },
      open: ['top'],
      clips: [{ edge: 'bottom', slope: true }],
      pose: { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 0, 1] },
    },
  },
  stacks: {
    card: { mass: '340 g/m2', thickness: '1 mm', D11: '1667 uN.m', D22: '1667 uN.m', D66: '833 uN.m', C11: '50 kN/m', C22: '50 kN/m', C66: '25 kN/m' },
  },
  options: { card: { 'every panel': 'card' } },
  stances: { stand: { kind: 'standing', friction: 0.4 } },
});
const files = { 'strip.bag.json': strip };

describe('slumpline need', () => {
  it('tells what the stack has and needs, both settled sides and the gap of 7 %, and exits 0; --json prints the same figures alone', async () => {
    const { code, out, err } = await ran(['need', 'strip.bag.json', '--mesh', '20'], files);
    expect(code).toBe(0);
    expect(out).toMatch(/card \(strip\): has 159 mm, needs 20[3-9] mm \(3\.[5-9]\d? mN·m, 2\.[1-3]\d? times its rigidity\)/);
    expect(out).toContain('They are 7 % of rigidity apart.');
    expect(err).toContain('times the rigidity');
    const asked = ['need', 'strip.bag.json', '--mesh', '20', '--panels', 'strip', '--stance', 'all', '--wanted', 'structured', '--json', '--quiet'];
    const json = await ran(asked, files);
    expect(json.err).toBe('');
    const report = JSON.parse(json.out);
    expect(report.panels).toEqual(['strip']);
    expect(report.stances[0].mid.least.met.side).toBe('meets');
    expect(report.stacks[0].overhang * Math.cbrt(report.stances[0].mid.least.met.factor)).toBeGreaterThan(0.2);
    expect(report.cautions.length).toBeGreaterThan(0);
  }, 60_000);
  it('--mass grows: what stiffens weighs, so that more of it is needed than with the weight staying; --no-soft-bolt leaves that bolt out', async () => {
    const asked = ['need', 'strip.bag.json', '--mesh', '20', '--quiet', '--no-soft-bolt'];
    const [stays, grows] = [await ran([...asked, '--json'], files), await ran([...asked, '--mass', 'grows', '--json'], files)];
    const factor = ({ out }: { out: string }): number => JSON.parse(out).stances[0].mid.least.met.factor;
    expect(factor(grows)).toBeGreaterThan(factor(stays));
    const { out } = await ran([...asked, '--mass', 'grows'], files);
    expect(out).toContain('weight grows as that of a nonwoven interfacing would');
    expect(out).toMatch(/g\/m2 where it has 340 g\/m2/);
    expect(out).not.toContain('soft bolt');
  }, 60_000);
  it.each([
    [['--mass', 'grow'], 'expected stays or grows'],
    [['--panels', 'strp'], 'unknown panel "strp"; did you mean "strip"?'],
    [['--panels', 'strip,strip'], 'panel given twice "strip"'],
    [['--wanted', 'structurd'], 'did you mean "structured"?'],
    [['--stance', 'hung'], 'this bag has: "stand", or all'],
    [['--option', 'cord'], 'unknown option "cord"'],
    [['--mesh', '0'], 'invalid --mesh "0"'],
  ])('%j: exit 2, in words, nothing on stdout', async (flags, said) => {
    const { code, out, err } = await ran(['need', 'strip.bag.json', ...flags], files);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(said);
  });
});
