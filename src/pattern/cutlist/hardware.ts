/** What is bought by the piece: hardware, parts of closures, rivets and rings of strap ends. */
import { isPoint, isZip } from '../../bag/index.ts';
import type { Bag } from '../../bag/types.ts';
import { hardwareFigures, hardwareWords } from '../../material/index.ts';
import { type Shelf, ZIP_SLIDER } from '../../shelf/index.ts';
import { formatMm } from '../../units/index.ts';
import { trimPurchase } from './prices.ts';
import type { ListedPart } from './types.ts';

/** As listed, before it is looked for on a shelf. */
type Loose = Omit<ListedPart, 'bought'>;

/** Every loose part of a bag with its count, mass and what it comes to on a shelf; a pair that holds to each other counts as one. */
export const looseParts = (bag: Bag, shelf: Shelf | null): ListedPart[] =>
  loose(bag).map((p) => ({ ...p, bought: trimPurchase(shelf, p.kind, p.size, { length: 0, count: p.count }) }));

/** Rivets and rings of strap ends are counted, not weighed. */
function loose(bag: Bag): Loose[] {
  const hardware = (bag.hardware ?? []).map((h): Loose => {
    const { mass, size, evidence } = hardwareFigures(h);
    return { name: h.name, kind: h.kind, what: hardwareWords(h), on: [h.panel], count: h.at.length, size: size > 0 ? size : null, mass, evidence };
  });
  const closures = (bag.closures ?? []).flatMap((c): Loose[] => {
    if (isPoint(c))
      return [
        {
          name: c.name,
          kind: c.kind,
          what: `${c.kind} of ${formatMm(c.size)}, both parts`,
          on: c.ends.map((e) => e.panel),
          count: 1,
          size: c.size > 0 ? c.size : null,
          mass: c.mass,
          evidence: 'estimate',
        },
      ];
    if (!isZip(c)) return [];
    const on = [...new Set(c.sides.flat().map((r) => r.panel))];
    return [
      { name: c.name, kind: ZIP_SLIDER, what: `slider and stops of the ${c.kind}`, on, count: 1, size: c.size, mass: c.sliderMass, evidence: 'estimate' },
    ];
  });
  const ends = bag.straps.flatMap((s) => s.anchors.map((a) => ({ strap: s.name, ...a }))).filter((a) => a.kind === 'rivet' || a.kind === 'ring loop');
  const anchors = [...new Set(ends.map((a) => `${a.strap}|${a.kind}|${a.width}`))].map((key): Loose => {
    const alike = ends.filter((a) => `${a.strap}|${a.kind}|${a.width}` === key);
    const { strap, kind, width } = alike[0]!;
    const what = kind === 'rivet' ? `rivet of ${formatMm(width)}` : `ring for a strap of ${formatMm(width)}`;
    return {
      name: `ends of strap ${strap}`,
      kind: kind === 'rivet' ? 'rivet' : 'ring',
      what,
      on: alike.map((a) => a.panel),
      count: alike.length,
      size: width,
      mass: null,
      evidence: null,
    };
  });
  return [...hardware, ...closures, ...anchors];
}
