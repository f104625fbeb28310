import { strapFamily } from '../../bag/index.ts';
import { type Bag, BagError, type Fault, type Stance } from '../../bag/types.ts';
import { anchorTracks, hungDrawing, levelLimits, missesOf, type SweepStep } from '../../report/index.ts';
import type { BandRun, Result } from '../../report/types.ts';
import { quickLook, type Step } from '../series.ts';
import { apartOf } from './usual.ts';

export type Hung = Extract<Stance, { kind: 'hung' }>;

/** What stays the same through a sweep. */
export interface Hanging {
  readonly option: string;
  readonly strap: string;
  readonly edgeLength: number;
  readonly pictures: boolean;
}

const NOTHING = {
  residual: null,
  tilt: null,
  mouthSag: null,
  baseSag: null,
  drop: null,
  force: null,
  inward: null,
  weight: null,
  carried: null,
  anchors: [],
  legs: [],
  level: false,
} as const;

export const refused = (reasons: readonly string[]): SweepStep => ({ status: 'refused', reason: reasons.join('; '), apart: null, ...NOTHING });

const refusedFor = (faults: readonly Fault[]): SweepStep => ({
  ...refused(faults.map((f) => `${f.path}: got ${f.got}; expected ${f.expected}`)),
  faults,
});

/** Hanging the bag once, middle of the band, as a step of a series. A bag that cannot be hung so (strap too short for the bar) is a refused one. */
export function hanging(bag: Bag, stance: Hung, h: Hanging, run: string, hung: (step: SweepStep) => boolean): Step {
  return {
    run,
    job: { bag: { ...bag, stances: [stance] }, options: quickLook(h.option, stance.name, h.edgeLength) },
    answered: (answer) => hung(answer instanceof BagError ? refusedFor(answer.faults) : read(bag, stance, h, answer)),
  };
}

/** Edge of the second mesh over that of the first. */
const AGAIN = 0.9;

/**
 * The same as a chain of at most two: what does not come to rest on the sweep's own mesh is hung once more on a slightly finer one, since whether a fold or a strap's
 * last slide is caught between two mesh points is the mesh's doing and not the bag's. `hung` is told once, with the mesh where it is the second one.
 */
export function hangingTwice(bag: Bag, stance: Hung, h: Hanging, run: string, hung: (step: SweepStep) => void): readonly Step[] {
  const finer = { ...h, edgeLength: AGAIN * h.edgeLength };
  let first: SweepStep | null = null;
  const take = (step: SweepStep): boolean => {
    hung(step);
    return false;
  };
  return [
    hanging(bag, stance, h, run, (step) => {
      if (step.status === 'settled' || step.status === 'refused') return take(step);
      first = step;
      return true;
    }),
    // What rests on neither is told as it was on the sweep's own.
    hanging(bag, stance, finer, `${run}, on a finer mesh`, (step) => take(step.status === 'settled' ? { ...step, finer: finer.edgeLength } : first!)),
  ];
}

function read(bag: Bag, stance: Hung, { strap, pictures }: Hanging, result: Result): SweepStep {
  const family = strapFamily(bag, strap),
    run = result.runs[0]!,
    apart = family[0] ? apartOf(bag, family[0]) : null;
  if (run.status !== 'settled') return { ...NOTHING, status: run.status, reason: unsettled(run, stance), residual: run.residual, apart };
  const limits = levelLimits(bag.wanted),
    step = { ...stepOf(run, new Set(family.map((s) => s.name)), limits), apart },
    drawn = pictures ? hungDrawing(result) : null;
  return drawn === null ? step : { ...step, picture: drawn.svg, tracks: anchorTracks(bag, strap, result.mesh, drawn.posed, drawn.frame) };
}

/** Forces left over, in a mesh point's weight, under which a bag's shape is within a millimetre of its last one (solver/rest/hang.ts). */
const CREEPS = 1e-2;

/** Why there are no figures of a bag that did not come to rest, and what to try. */
function unsettled({ status, residual, iterations }: BandRun, stance: Hung): string {
  if (status === 'diverged') return 'the solver diverged; nothing is said about this hanging. Try another mesh';
  const rolls = (stance.contents?.length ?? 0) > 0;
  const creeps = residual < CREEPS;
  const still = `after ${iterations} steps ${creeps ? 'it all but hangs still, and a fold or the end of a strap creeps on' : 'a part of it still fell or slid'}: forces are out of balance by ${Number(residual.toPrecision(2))} of a mesh point's weight, where 0.0001 is at rest`;
  return `${still}. ${rolls ? 'Rigid things roll and slide in a hung bag: try loose contents of the same mass' : 'Try a finer or a coarser mesh'}`;
}

function stepOf(run: BandRun, family: ReadonlySet<string>, limits: ReturnType<typeof levelLimits>): Omit<SweepStep, 'apart'> {
  const h = run.hung!,
    { hangTilt: tilt, mouthSag, baseSag } = run.measures,
    own = h.straps.filter((s) => family.has(s.name)),
    ends = own.flatMap((s) => s.anchors);
  return {
    status: run.status,
    reason: null,
    residual: run.residual,
    tilt,
    mouthSag,
    baseSag,
    drop: own.reduce((sum, s) => sum + s.drop, 0) / own.length,
    force: Math.max(...ends.map((a) => a.size)),
    inward: Math.max(...ends.map((a) => a.inward)),
    weight: h.weight,
    carried: h.carried[2],
    anchors: h.straps.flatMap((s) =>
      s.anchors.map(({ panel, size, force, peel, shear, inward, legAngle }) => ({
        strap: s.name,
        panel,
        force: size,
        vertical: force[2],
        peel,
        shear,
        inward,
        legAngle,
      })),
    ),
    legs: h.straps.filter((s) => !s.slack).map(({ name, tension, frictionHolds }) => ({ strap: name, tension, frictionHolds })),
    level: tilt !== null && missesOf({ tilt, mouthSag }, limits).length === 0,
  };
}
