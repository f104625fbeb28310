import { closureMass, eachHardware, eachMember, laidClosures, panelMasses } from '../assembly/index.ts';
import { finishedAs, onStrap, optionNamed } from '../bag/index.ts';
import type { Bag } from '../bag/types.ts';
import { laminateOf, layUp, sewnLayers } from '../material/index.ts';
import type { FinishedPart } from '../pattern/types.ts';
import { usualEdge } from './mesh-size.ts';
import { sew } from './scene.ts';

/**
 * Masses of the finished bag by part, kg: panels with their allowances and finishes, straps with their sewn ends, members, hardware, closures. Together they are what
 * the bag weighs in every stance that does not leave its closures out (massKg of a result on the same mesh), to rounding.
 * Parameters: bag; name of the option (default the first); edge of the mesh, m: chords of curved seams differ by it. Errors: BagError, as of a run.
 */
export function finishedParts(asWritten: Bag, optionName?: string, edgeLength: number = usualEdge(asWritten)): FinishedPart[] {
  const option = optionNamed(asWritten, optionName);
  const bag = finishedAs(asWritten, option);
  const { mesh, drafted } = sew(asWritten, edgeLength);
  const laminates = layUp(bag, option.name, 'mid');
  const panels = panelMasses(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid'));
  const parts: FinishedPart[] = mesh.panelNames.map((name, p) => ({ kind: 'panel', name, mass: panels[p]! }));
  for (const s of bag.straps) {
    const { arealMass } = laminateOf(bag, bag.stacks.find((k) => k.name === s.stack)!, 'mid', onStrap(s));
    parts.push({ kind: 'strap', name: s.name, mass: arealMass * s.width * s.layers * (s.length + s.anchors[0].height + s.anchors[1].height) });
  }
  const sums = new Map<string, FinishedPart>();
  const add = (kind: FinishedPart['kind'], name: string, kg: number): void => {
    sums.set(`${kind} ${name}`, { kind, name, mass: (sums.get(`${kind} ${name}`)?.mass ?? 0) + kg });
  };
  eachMember(bag, mesh, (_, __, kg, m) => add('member', m.name, kg));
  eachHardware(bag, mesh, (_, kg, h) => add('hardware', h.name, kg));
  for (const laid of laidClosures(bag, mesh, drafted, { ...bag.stances[0]!, closed: [] })) add('closure', laid.closure.name, closureMass(laid));
  return [...parts, ...sums.values()];
}
