import { eachHardware, eachMember, memberLengths } from '../assembly/index.ts';
import { hardwareFigures, hardwareWords, memberFigures, memberWords } from '../material/index.ts';
import { feetOf, standsOnFeet } from '../mesh/index.ts';
import type { FootLoad, Part } from '../report/types.ts';
import type { Scene } from './scene.ts';

/** Members and hardware of a bag: what each is and weighs; empty where it has none. */
export function partsOf({ bag, mesh }: Pick<Scene, 'bag' | 'mesh'>): Part[] {
  if (!bag.members && !bag.hardware) return [];
  const weights = new Map<string, number>(),
    add = (key: string, kg: number): void => {
      weights.set(key, (weights.get(key) ?? 0) + kg);
    };
  eachMember(bag, mesh, (_, __, kg, m) => add(`member ${m.name}`, kg));
  eachHardware(bag, mesh, (_, kg, h) => add(`hardware ${h.name}`, kg));
  const lengths = memberLengths(bag, mesh);
  return [
    ...(bag.members ?? []).map(
      (m): Part => ({
        name: m.name,
        what: memberWords(m),
        massKg: weights.get(`member ${m.name}`) ?? 0,
        length: lengths.get(m.name)!,
        evidence: memberFigures(m).evidence,
      }),
    ),
    ...(bag.hardware ?? []).map(
      (h): Part => ({
        name: h.name,
        what: hardwareWords(h),
        massKg: weights.get(`hardware ${h.name}`) ?? 0,
        pieces: h.at.length,
        evidence: hardwareFigures(h).evidence,
      }),
    ),
  ];
}

/** The points that stand and how high they lift the bag, m; null where it has fewer than three feet. */
export function feetUnder({ bag, mesh }: Pick<Scene, 'bag' | 'mesh'>): { verts: Uint32Array; lift: number } | null {
  const verts = standsOnFeet(bag, mesh);
  return verts && { verts, lift: Math.max(...feetOf(bag, mesh).map((f) => hardwareFigures(f.hardware).height)) };
}

/** What each foot carries: force of the table on its point, N. `force`: of every support on the sheet, 3n. */
export function feetLoads({ bag, mesh, model }: Pick<Scene, 'bag' | 'mesh' | 'model'>, force: readonly Float64Array[], x: Float64Array): FootLoad[] {
  return feetOf(bag, mesh).map(({ hardware, vertex }) => ({
    name: hardware.name,
    at: [x[3 * vertex]!, x[3 * vertex + 1]!, x[3 * vertex + 2]!],
    newtons: model.supports.reduce((sum, s, i) => sum + (s.only?.[vertex] === 1 ? force[i]![3 * vertex + 2]! : 0), 0),
  }));
}
