/** The JSON schema of a sweep's table, held against tables that were really made. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { planRuns, runPlan, runsJson, runsJsonSchema } from '../../../src/public/sweep.ts';
import { drawnAxis, madeRun, planOf } from './made-up.ts';

const schema = z.fromJSONSchema(runsJsonSchema() as Parameters<typeof z.fromJSONSchema>[0]);
const tote = readFileSync(new URL('../../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');
const market = readFileSync(new URL('../../../demos/market-tote.bag.json', import.meta.url), 'utf8');

/** Where a table is not of the schema. */
const faultsOf = (table: unknown): string[] => schema.safeParse(table).error?.issues.map((issue) => issue.path.join('.')) ?? [];

async function tableOf(file: string, options: Parameters<typeof planRuns>[1]) {
  const plan = planRuns(file, options),
    runs: Parameters<typeof runsJson>[1][number][] = [];
  await runPlan(file, plan, { onRun: (run) => void runs.push(run) });
  return JSON.parse(runsJson(plan, runs));
}

describe('the JSON schema of table.json (keys sweep), as it is printed', () => {
  it('is draft 2020-12 and tells units', () => {
    const text = JSON.stringify(runsJsonSchema());
    expect(text).toContain('2020-12');
    expect(text).toContain('of a hung bag, rad');
  });

  it.each([
    [
      'a grid with choices, and a width at which the bag cannot be made',
      tote,
      { vary: 'W=10|300 mm,option=vegetable-tanned leather,stance=*', edgeLength: 0.06 },
    ],
    ['4 draws of a bolt and friction', tote, { vary: 'material.veg20.band=low..high,friction=0.2..0.6', samples: 4, edgeLength: 0.06 }],
    ['a hung bag', market, { vary: 'stance=hung with 2 kg', edgeLength: 0.06 }],
  ])('accepts the table of %s', async (_, file, options) => {
    const table = await tableOf(file, options);
    expect(faultsOf(table)).toEqual([]);
    expect(table.runs.length).toBe(table.plan.runs);
  });

  it('accepts shares with their intervals (60 made-up draws over two parameters)', () => {
    const plan = planOf([drawnAxis('friction'), drawnAxis('bond')], 60),
      runs = Array.from({ length: 60 }, (_, i) => madeRun(plan, i, { friction: i / 60, bond: (7 * i) % 60 }, { heightKept: 0.7 + i / 300 })),
      table = JSON.parse(runsJson(plan, runs));
    expect(table.matters.byCase[0].height).toHaveLength(2);
    expect(faultsOf(table)).toEqual([]);
  });

  it('refuses a word that is none, a missing figure, a digest that is none and a key that it does not know', () => {
    const plan = planOf([drawnAxis('friction')], 2),
      table = JSON.parse(runsJson(plan, [madeRun(plan, 0, { friction: 0.2 }), madeRun(plan, 1, { friction: 0.3 })]));
    expect(faultsOf(table)).toEqual([]);
    table.runs[0].word = 'stands';
    delete table.runs[1].margin;
    table.planDigest = 'x';
    expect(faultsOf(table).sort()).toEqual(['planDigest', 'runs.0.word', 'runs.1.margin']);
    expect(faultsOf({ ...table, seconds: 3 })).toContain('');
  });
});
