/** When hardware, closures and members are set. Common practice, no source. */
import { isCord, isPoint, isZip } from '../../bag/index.ts';
import type { Bag, EdgeRun, Member } from '../../bag/types.ts';
import { hardwareWords, memberWords } from '../../material/index.ts';
import { formatMm } from '../../units/index.ts';
import { strapFold, strapFrays } from '../pieces/straps.ts';
import type { SewingStep } from './types.ts';

/** Sewn in with an edge or a seam; what is left is slipped into a channel once that is sewn. */
const SEWN_IN: readonly Member['kind'][] = ['cotton cord', 'paper cord', 'plastic cord', 'coil zip', 'metal zip', 'webbing binding'];

/** Steps of one phase each: while panels are flat, at the edges once seams are closed, and last. */
export interface TrimSteps {
  readonly flat: readonly SewingStep[];
  readonly edges: readonly SewingStep[];
  readonly last: readonly SewingStep[];
}

const panels = (runs: readonly EdgeRun[]): string => [...new Set(runs.map((r) => r.panel))].join(' and ');
const edges = (runs: readonly EdgeRun[]): string => [...new Set(runs.map((r) => `${r.panel} ${r.edge}`))].join(', ');

/** What is set on a bag besides its panels, by when it is done. strapTurn: how far raw edges of cloth straps are turned in, m. */
export function trimSteps(bag: Bag, strapTurn: number): TrimSteps {
  const step = (phase: string, text: string): SewingStep => ({ phase, text });
  const straps = [...new Set(bag.straps.map((s) => strapFold(s.width, s.layers, strapFrays(bag, s), strapTurn).words))].filter((w) => w !== '');
  const folded = straps.map((words) => {
    const names = bag.straps.filter((s) => strapFold(s.width, s.layers, strapFrays(bag, s), strapTurn).words === words).map((s) => s.name);
    return step('flat', `Fold and stitch ${names.length > 1 ? 'straps' : 'strap'} ${names.join(', ')}: ${words}.`);
  });
  const hardware = (bag.hardware ?? []).map((h) =>
    step('flat', `Set ${h.name} on ${h.panel}: ${hardwareWords(h)}, through shell and interfacing, before a lining covers its back.`),
  );
  const members = bag.members ?? [];
  const where = (m: Member): string => [edges(m.runs), (m.lines ?? []).map((l) => `${l.panel} ${l.line}`).join(', ')].filter((w) => w !== '').join(', ');
  const short = (m: Member): string => (m.stopsShort > 0 ? `; ${formatMm(m.stopsShort)} of each end stays out of the seams that cross it` : '');
  const closures = bag.closures ?? [];
  return {
    flat: [
      ...folded,
      ...hardware,
      ...closures.flatMap((c) => {
        if (isPoint(c))
          return [
            step(
              'flat',
              `Set both parts of ${c.name} (${c.kind}) on ${[...new Set(c.ends.map((e) => e.panel))].join(' and ')}, before a lining covers their backs.`,
            ),
          ];
        if (isZip(c))
          return [
            step(
              'flat',
              `Sew ${c.name} (${c.kind}) to ${panels(c.sides[0])} and ${panels(c.sides[1])}, before the seams that cross its ends. Leave it half open to turn the bag through.`,
            ),
          ];
        return [];
      }),
      ...members
        .filter((m) => SEWN_IN.includes(m.kind))
        .map((m) => step('flat', `Baste ${m.name} (${memberWords(m)}) along ${where(m)}, before what closes over it${short(m)}.`)),
    ],
    edges: [
      ...closures.flatMap((c) =>
        isCord(c)
          ? [
              step(
                'edges',
                `Sew the channel of ${c.name} along ${edges(c.along)}${c.below > 0 ? `, ${formatMm(c.below)} below the edge` : ''}; leave an opening for its ends.`,
              ),
            ]
          : [],
      ),
      ...members
        .filter((m) => !SEWN_IN.includes(m.kind))
        .map((m) => step('edges', `Slip ${m.name} (${memberWords(m)}) into its channel along ${where(m)}${short(m)}.`)),
    ],
    last: closures.flatMap((c) => (isCord(c) ? [step('last', `Thread ${c.name} (${c.kind}) through its channel.`)] : [])),
  };
}
