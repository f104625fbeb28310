import type { PartStrain, StrainMeasures } from '../measures/index.ts';
import { trimmed } from '../units/index.ts';
import type { BandRun } from './types.ts';
import { BATCH } from './words.ts';

const share = (v: number): string => `${trimmed(100 * v, 1)} %`;

const KINDS = ['seam', 'panel', 'strap'] as const;
const phrase = (p: PartStrain): string =>
  `${p.kind === 'panel' ? `panel ${p.name}` : p.kind === 'seam' ? `the cloth beside seam ${p.name}` : `strap ${p.name}`} by ${share(p.strain)}`;

const largest = (parts: readonly PartStrain[]): PartStrain | null => (parts.length === 0 ? null : parts.reduce((a, b) => (b.strain > a.strain ? b : a)));

/** Parts of one run that are strained past the limit, most strained first. */
const pastLimit = (s: StrainMeasures | null): readonly PartStrain[] =>
  s === null ? [] : s.parts.filter((p) => p.strain > s.limit).sort((a, b) => b.strain - a.strain);

/**
 * One sentence on the most strained seam, panel and strap past the limit in the run that strains most; empty when none is. The first named is the worst of all.
 * runs: of one option and stance.
 */
export function strainReason(runs: readonly BandRun[]): string {
  const over = runs.filter((r) => pastLimit(r.strain).length > 0);
  if (over.length === 0) return '';
  const run = over.reduce((a, b) => (pastLimit(b.strain)[0]!.strain > pastLimit(a.strain)[0]!.strain ? b : a));
  const parts = pastLimit(run.strain);
  const named = KINDS.flatMap((k) => largest(parts.filter((p) => p.kind === k)) ?? []).sort((a, b) => b.strain - a.strain);
  const more = parts.length - named.length;
  return `Stretched past ${share(run.strain!.limit)} over 20 mm, with ${BATCH[run.band]}: ${named.map(phrase).join(', ')}${more > 0 ? `, and ${more} more` : ''}.`;
}

/** Largest strain of one run as a line of the report; empty where nothing was measured. */
export function strainLine(s: StrainMeasures | null): string {
  const most = s === null ? null : largest(s.parts);
  if (s === null || most === null) return '';
  return `largest strain: ${phrase(most)}; strains past ${share(s.limit)} are pointed out (${s.stated ? "the bag file's own strainLimit" : 'common practice, no source; "strainLimit" of the bag file'})`;
}
