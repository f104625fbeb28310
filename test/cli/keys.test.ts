import { describe, expect, it } from 'vitest';
import { bagJsonSchema } from '../../src/bag/index.ts';
import { runsJsonSchema } from '../../src/report/index.ts';
import { ran } from './desk.ts';

const run = (...argv: string[]) => ran(argv);

describe('keys', () => {
  it('tells every key that the schema of the file has, under its part', async () => {
    const { code, out } = await run('keys');
    expect(code).toBe(0);
    const missing: string[] = [];
    const visit = (s: Record<string, unknown>): void => {
      for (const [key, value] of Object.entries(s)) {
        if (key === 'properties')
          for (const name of Object.keys(value as object)) if (!new RegExp(`^ *${name.replace('$', '\\$')}\\*?(:|$)`, 'm').test(out)) missing.push(name);
        if (value !== null && typeof value === 'object') visit(value as Record<string, unknown>);
      }
    };
    visit(bagJsonSchema() as Record<string, unknown>);
    expect(missing).toEqual([]);
    expect(out).toContain('panels*');
    expect(out).toContain('circle: its one edge is called rim');
    expect(out).toContain('    type: "plain" | "turned" | "lapped" | "bound" | "topstitched" | "fold"');
  });

  it('one part alone, and the schema itself as JSON', async () => {
    const seams = await run('keys', 'seams');
    expect(seams.out).toMatch(/^seams\n/);
    expect(seams.out).not.toContain('panels');
    expect(JSON.parse((await run('keys', '--json')).out)).toEqual(JSON.parse(JSON.stringify(bagJsonSchema())));
    expect(JSON.parse((await run('keys', 'sweep')).out)).toEqual(JSON.parse(JSON.stringify(runsJsonSchema())));
  });

  it('an unknown part is told with those there are; exit 2', async () => {
    const { code, out, err } = await run('keys', 'seam');
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('unknown part "seam"; did you mean "seams"?');
    expect(err).toContain('panels, seams, straps');
  });
});
