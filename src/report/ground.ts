import { withArticle } from '../bag/index.ts';
import type { Ground } from '../bag/types.ts';
import { formatAngle, formatMass } from '../units/index.ts';
import { leadRun } from './judge.ts';
import type { Placed, Result } from './types.ts';

/** What a bag stands on, in words; empty for a plain level table. */
function groundWords(ground: Ground | null): string {
  if (ground === null) return '';
  const { on, tilt, toward, base, forms } = ground;
  const parts: string[] = [];
  if (tilt > 0) parts.push(`${on === 'table' ? 'on a table ' : ''}tilted ${formatAngle(tilt)} toward the ${toward} (drawn and measured as if level)`);
  if (base !== 'free') parts.push(`its base ${base} down`);
  if (forms.length > 0) parts.push(`with ${forms.map((f) => withArticle(f.form)).join(', ')}`);
  return parts.join(', ');
}

/** Rigid contents in words: "a bottle (530 g) and a book (600 g) in it"; empty where there are none. */
function contentsWords(contents: readonly Placed[]): string {
  const all = contents.map((c) => `${/\d$/.test(c.name) ? c.name : withArticle(c.name)} (${formatMass(c.mass)})`);
  if (all.length === 0) return '';
  return `${all.length === 1 ? all[0] : `${all.slice(0, -1).join(', ')} and ${all[all.length - 1]}`} in it`;
}

/** What a bag stands on and what is in it, in words; empty for an empty bag (or loose contents alone) on a plain level table. */
export const aroundWords = (result: Result): string =>
  [groundWords(result.ground ?? null), contentsWords(leadRun(result.runs).contents)].filter((w) => w !== '').join('; ');
