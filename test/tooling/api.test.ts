import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { apiList } from '../../.ci/api.mjs';

const made = apiList() as { text: string; missing: string[]; count: number };

it('every public name has a docstring of its own', () => {
  expect(made.missing).toEqual([]);
});

it('every public function tells its parameters and the type of its result', () => {
  expect((made as { unstated?: string[] }).unstated).toEqual([]);
  for (const told of [
    'preview(spec: Spec, asked: AsyncOptions = {}): Promise<Result>',
    'overhang(laminate: Laminate, direction: number): number',
    'INCH = 0.0254',
  ])
    expect(made.text).toContain(`- \`${told}\``);
});

it('src/run/API.md lists all public names as their docstrings have them; `npm run docs:api -- --write` makes it anew', () => {
  expect(made.count).toBeGreaterThan(300);
  expect(readFileSync(new URL('../../src/run/API.md', import.meta.url), 'utf8')).toBe(made.text);
});
