import type { Bag } from '../bag/types.ts';
import { seamStrength } from '../material/index.ts';
import { type Finding, millimetres } from '../panels/index.ts';

/**
 * What every row of topstitching with a stated thread comes to by the rule of thumb for lockstitch: stitches per metre x thread x 1.5 (seamStrength, with its
 * source). A reference to hold a pull against: it takes every stitch to bear its share and the thread to give way before the cloth. Never throws.
 */
export function checkThread(bag: Bag): readonly Finding[] {
  return bag.topstitch.flatMap(({ panel, runs, offset, stitch, thread }) => {
    if (thread === null) return [];
    const strength = seamStrength('301', 1 / stitch, thread);
    const edges = [...new Set(runs.map((r) => `${panel}.${r.edge}`))].join(', ');
    return [
      {
        kind: 'row strength',
        panel,
        edge: runs[0].edge,
        seam: null,
        value: strength,
        figure: `${Math.round(strength / 10)} N per 10 cm`,
        text: `The row of topstitching ${millimetres(offset)} from ${edges}, ${millimetres(stitch)} stitches in thread of ${Number(thread.toPrecision(3))} N, comes to ${Math.round(strength / 10)} N per 10 cm by the rule of thumb (lockstitch: stitches x thread x 1.5). A reference, not a promise: leather and loose cloth often give way first.`,
      },
    ];
  });
}
