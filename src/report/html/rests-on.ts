import { sha256 } from '../../numerics/index.ts';
import { formatGsm, formatMm } from '../../units/index.ts';
import { RESULT_VERSION } from '../json.ts';
import { leadRun } from '../judge.ts';
import { THRESHOLDS } from '../thresholds.ts';
import type { Result } from '../types.ts';
import { VERSION } from '../version.ts';
import { evidenceTag, length, limit as limitOf } from '../words.ts';
import { namesOf } from './answer.ts';
import { faint, type ReportPart } from './blocks.ts';

/** What each kind of evidence means, for a reader who has not read the manual. */
const KINDS = [
  ['your swatch', 'measured on a piece of the very cloth'],
  ['stated', "a figure that the bag file states, or the maker's data sheet"],
  ['published', 'a value of the same kind of cloth in a source that is named'],
  ['estimate', 'worked out from published values and bounds: the widest of all'],
] as const;

/** Every stack with what its figures rest on: what was measured, what is an estimate. */
export function restsOnPart(results: readonly Result[]): ReportPart {
  const names = namesOf(results);
  const rows = new Map<string, { cells: string[]; where: string[]; of: Set<string> }>();
  results.forEach((r, i) => {
    for (const s of r.stacks) {
      const key = `${s.story}|${s.overhang}`;
      const [name, ...reasons] = s.story.split('; ');
      const tag = evidenceTag(s.evidence);
      const rests = reasons[0]?.startsWith(tag) ? reasons.join('; ') : [tag, ...reasons].join('; ');
      const row = rows.get(key) ?? {
        cells: [name!.replace(/: [\d.]+ g\/m2.*$/, ''), formatGsm(s.arealMass), s.thickness > 0 ? formatMm(s.thickness, 2) : '-', length(s.overhang), rests],
        where: [],
        of: new Set<string>(),
      };
      const place = s.region === null ? s.panel : `${s.panel}/${s.region}`;
      if (!row.where.includes(place)) row.where.push(place);
      row.of.add(names[i]!);
      rows.set(key, row);
    }
  });
  const several = names.length > 1;
  return {
    title: 'What was measured, what is an estimate',
    blocks: [
      faint(`${KINDS.map(([word, means]) => `${word}: ${means}`).join('. ')}.`),
      {
        kind: 'table',
        heads: [...(several ? ['in'] : []), 'panels', 'stack', 'weight', 'thickness', 'overhang 41.5 deg', 'rests on'],
        rows: [...rows.values()].map(({ cells, where, of }) => [
          ...(several ? [of.size === names.length ? 'all' : [...of].join('; ')] : []),
          where.join(', '),
          ...cells,
        ]),
      },
    ],
  };
}

/** Where the words end, how to check at home. */
export function limitsPart(): ReportPart {
  return {
    title: 'Where the words end',
    blocks: [
      {
        kind: 'table',
        heads: ['measure', 'holds', 'softens', 'check at home', 'where it comes from'],
        rows: THRESHOLDS.map((t) => [
          t.label,
          limitOf(t),
          t.decides ? limitOf({ ...t, holds: t.softens }) : 'past that: softens, never slumps',
          t.homeCheck,
          t.source,
        ]),
      },
    ],
  };
}

/** Which program, which mesh, which file: whoever has these gets the same figures. */
export function versionsPart(results: readonly Result[], bag: string | undefined): ReportPart {
  const names = namesOf(results);
  return {
    title: 'Made with',
    blocks: [
      faint(
        `slumpline ${VERSION}, results of version ${RESULT_VERSION}.${bag === undefined ? '' : ` Bag file: SHA-256 ${sha256(bag)}; it is inside this page, which opens where a bag file does.`}`,
      ),
      {
        kind: 'table',
        heads: ['', 'mesh edge', 'points', 'start', 'at rest to'],
        rows: results.map((r, i) => {
          const lead = leadRun(r.runs);
          const rest = lead.status === 'settled' ? `${lead.residual.toExponential(0)} of a mesh point's weight` : 'not at rest';
          return [names[i]!, formatMm(r.settings.edgeLength), String(r.vertices), String(r.settings.seed), rest];
        }),
      },
    ],
  };
}
