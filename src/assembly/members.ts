import { edgeLength } from '../bag/index.ts';
import type { Bag, EdgeRun, Four, Member } from '../bag/types.ts';
import { type MemberFigures, memberFigures } from '../material/index.ts';
import type { Band } from '../material/types.ts';
import { type BagMesh, flatArea } from '../mesh/types.ts';
import { type Touched, underStrip } from './under-strip.ts';

/**
 * Width over which a member's rigidity is spread, in edges: two rows of triangles. A single row that is stiff along itself alone bends too easily, because its triangles turn
 * their slopes across; two rows leave a rod about 5 % too soft whatever the mesh (test/assembly/members.test.ts).
 */
const ROWS = 1.6;
/** Twisting rigidity D66 of the spread rod over its rigidity along: GJ = 4 D66 times the width = 0.8 EI, a round rod's with Poisson's ratio 0.25. */
const TWIST = 0.2;
const END = { low: 0, mid: 1, high: 2 } as const;

/** A member on the mesh: triangles beside it, what it adds along itself there, and its mass on each. */
export interface LaidMember {
  readonly member: Member;
  readonly figures: MemberFigures;
  readonly touched: readonly Touched[];
  /** What it adds to the cloth under it, x along the member, N*m: EI over the strip's width, and its twist. */ readonly bending: Four;
  /** kg, in the order of `touched`. */ readonly masses: readonly number[];
}

const lengthOf = (bag: Bag, run: EdgeRun): number => {
  const panel = bag.panels.find((p) => p.name === run.panel)!;
  const edge = [...panel.outline, ...panel.holes.flat()].find((e) => e.name === run.edge)!;
  return (run.to - run.from) * edgeLength(edge);
};

/** The stretches with the member's ends cut back. */
function cutBack(bag: Bag, { runs, stopsShort }: Member): EdgeRun[] {
  if (stopsShort === 0) return [...runs];
  const lengths = runs.map((r) => lengthOf(bag, r));
  const total = lengths.reduce((a, b) => a + b, 0);
  let start = 0;
  return runs.flatMap((run, i) => {
    const [from, to] = [Math.max(start, stopsShort) - start, Math.min(start + lengths[i]!, total - stopsShort) - start];
    start += lengths[i]!;
    if (!(from < to)) return [];
    const share = (run.to - run.from) / lengths[i]!;
    return [{ ...run, from: run.from + from * share, to: run.from + to * share }];
  });
}

/**
 * Members of the bag, spread over two rows of triangles beside their line, at one end of their band. A member bends with the cloth along its line, out of the cloth:
 * EI/2 kappa^2 ds, so that the rows' rigidity along the line times their width is EI. It is straight at rest, twists with the cloth, and adds nothing across the line nor in the
 * plane, where cloth is far stiffer than it bends. At a corner of the panel it ends and begins anew: the seam there hinges as it does without.
 * Parameters: bag; mesh; end of the members' band. Source: energy of a rod (Euler and Bernoulli), lumped as the fins of seams are.
 */
export function laidMembers(bag: Bag, mesh: BagMesh, band: Band): LaidMember[] {
  return (bag.members ?? []).map((member) => {
    const figures = memberFigures(member);
    const width = ROWS * mesh.quality.meanEdge;
    const runs = cutBack(bag, member);
    const touched = runs.flatMap((run) => underStrip(bag, mesh, { ...run, width }));
    const length = runs.reduce((sum, r) => sum + lengthOf(bag, r), 0);
    const areas = touched.map(({ t, share }) => share * flatArea(mesh, t));
    const area = areas.reduce((a, b) => a + b, 0);
    const along = area > 0 ? (figures.rodRigidity[END[band]] * length) / area : 0;
    return {
      member,
      figures,
      touched,
      // By the area that it lies on: round a curve a strip is a little longer or shorter inside than its edge.
      bending: [along, 0, 0, TWIST * along],
      masses: areas.map((a) => (a / area) * figures.lineMass * length),
    };
  });
}

/** Tells the mass, kg, that members add on each triangle. */
export function eachMember(bag: Bag, mesh: BagMesh, tell: (t: number, mass: number) => void): void {
  if (!bag.members) return;
  for (const { touched, masses } of laidMembers(bag, mesh, 'mid'))
    touched.forEach(({ t }, i) => {
      tell(t, masses[i]!);
    });
}
