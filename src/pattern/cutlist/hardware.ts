/** What is bought by the piece: hardware, parts of closures, rivets and rings of strap ends. */
import { isPoint, isZip } from '../../bag/index.ts';
import type { Bag } from '../../bag/types.ts';
import { hardwareFigures, hardwareWords } from '../../material/index.ts';
import { formatMm } from '../../units/index.ts';
import type { ListedPart } from './types.ts';

/** Every loose part of a bag with its count and mass; a pair that holds to each other counts as one. Rivets and rings of strap ends are counted, not weighed. */
export function looseParts(bag: Bag): ListedPart[] {
  const hardware = (bag.hardware ?? []).map((h): ListedPart => {
    const { mass, evidence } = hardwareFigures(h);
    return { name: h.name, kind: h.kind, what: hardwareWords(h), on: [h.panel], count: h.at.length, mass, evidence };
  });
  const closures = (bag.closures ?? []).flatMap((c): ListedPart[] => {
    if (isPoint(c))
      return [
        {
          name: c.name,
          kind: c.kind,
          what: `${c.kind} of ${formatMm(c.size)}, both parts`,
          on: c.ends.map((e) => e.panel),
          count: 1,
          mass: c.mass,
          evidence: 'estimate',
        },
      ];
    if (!isZip(c)) return [];
    const on = [...new Set(c.sides.flat().map((r) => r.panel))];
    return [{ name: c.name, kind: 'slider', what: `slider and stops of the ${c.kind}`, on, count: 1, mass: c.sliderMass, evidence: 'estimate' }];
  });
  const ends = bag.straps.flatMap((s) => s.anchors.map((a) => ({ strap: s.name, ...a }))).filter((a) => a.kind === 'rivet' || a.kind === 'ring loop');
  const anchors = [...new Set(ends.map((a) => `${a.strap}|${a.kind}|${a.width}`))].map((key): ListedPart => {
    const alike = ends.filter((a) => `${a.strap}|${a.kind}|${a.width}` === key);
    const { strap, kind, width } = alike[0]!;
    const what = kind === 'rivet' ? `rivet of ${formatMm(width)}` : `ring for a strap of ${formatMm(width)}`;
    return {
      name: `ends of strap ${strap}`,
      kind: kind === 'rivet' ? 'rivet' : 'ring',
      what,
      on: alike.map((a) => a.panel),
      count: alike.length,
      mass: null,
      evidence: null,
    };
  });
  return [...hardware, ...closures, ...anchors];
}
