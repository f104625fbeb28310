import { bodyKernel } from './contact/body/door.ts';
import { createPairBlocks, factorisingPairBlocks, type PairBlocks } from './contact/cloth/pair-blocks.ts';
import type { ArcBlocks } from './elastic/arc-blocks.ts';
import { arcKernel } from './elastic/arc-door.ts';
import { factorCords, preconditionCords } from './elastic/cords.ts';
import { assembleMatrix } from './elastic/matrix.ts';
import { type Factor, factorising, type Symbolic, solve } from './sparse/index.ts';
import type { System } from './system.ts';
import type { Work } from './work.ts';

/** What a factor has beside the sheet's own matrix: the blocks of pairs that touch, what arcs add, or both. */
type Beside = 'nothing' | 'pairs' | 'arcs' | 'arcs and pairs';

/** The factor that CG leans on, and what decides what goes into it; mutated by makingPreconditioner. */
export interface Preconditioner {
  /** The sheet's own pattern analysed, and its factor; undefined until it is first made. */ readonly symbolic: Symbolic;
  factor: Factor | undefined;
  /** Undefined until they are first asked for. */ pairs: PairBlocks | undefined;
  arcs: ArcBlocks | undefined;
  arcsAndPairs: PairBlocks | undefined;
  /** What the factor at hand has. */ has: Beside;
  /** Factors made with more than nothing since one with nothing was tried. */ made: number;
  /** May the factor hold arcs? Set where a bag hangs: CG goes on long enough there for them to pay. */ hangs: boolean;
  /** CG iterations of the last direction with a factor that had nothing or arcs alone. */ readonly cg: { nothing: number; arcs: number };
}

export const createPreconditioner = (symbolic: Symbolic): Preconditioner => ({
  symbolic,
  factor: undefined,
  pairs: undefined,
  arcs: undefined,
  arcsAndPairs: undefined,
  has: 'nothing',
  made: 0,
  hangs: false,
  cg: { nothing: 0, arcs: 0 },
});

/**
 * What the pairs' blocks cost: a plan for what touches anew, as a share of a factorisation without them, and the factor's further operations. What they save: CG iterations
 * but for two, a solve and a product each. At 700 to 2200 points an iteration takes 0.16 to 0.19 of a factorisation.
 */
const PLAN_SHARE = 0.5;
const ITERATION_SHARE = 0.17;
const COUPLED_CG = 2;
/** Operations with the blocks over those without, before they were ever made: what half a hundred pairs bring. */
const FIRST_GROWTH = 1.3;
/**
 * CG iterations from which arcs are worth their factor: it takes three times the operations, its assembly as long as a factorisation, and some 5 to 17 are left. Standing bags stop
 * CG at 40, where the longer factor does not pay (backpack at 25 mm from 25 iterations on: 52 CPU s, 25 without); what hangs goes on to 640. Then, from which pairs are worth theirs
 * beside arcs: half of that longer factorisation.
 */
const ARCS_FROM = 60;
const PAIRS_BESIDE_ARCS_FROM = 8;
/** Factors with more in them after which one with nothing is tried again: what touched may have come apart, what was bent may lie flat. */
const TRIED_AGAIN = 30;

/** Where little touches or bends CG is as quick without. A rigid body's elimination knows nothing of pairs. */
function wanted(sys: System): Beside {
  const p = sys.preconditioner,
    touching = sys.pairs !== null && sys.pairs.active > 0 && !sys.schur;
  let beside: Beside = 'nothing';
  if (sys.el.formulation === 'arc-corrected') {
    if (p.hangs && p.cg.nothing >= ARCS_FROM) beside = touching && p.cg.arcs >= PAIRS_BESIDE_ARCS_FROM ? 'arcs and pairs' : 'arcs';
  } else if (touching) {
    const growth = p.pairs ? p.pairs.symbolic.flops / p.symbolic.flops : FIRST_GROWTH;
    if (ITERATION_SHARE * (p.cg.nothing - COUPLED_CG) > growth - 1 + PLAN_SHARE) beside = 'pairs';
  }
  if (beside === 'nothing' || p.made < TRIED_AGAIN) return beside;
  p.made = 0;
  p.cg.arcs = 0;
  return 'nothing';
}

/** The factor made last, and its analysis. */
function atHand({ preconditioner: p }: System): { readonly symbolic: Symbolic; readonly factor: Factor | undefined } {
  if (p.has === 'nothing') return p;
  return p.has === 'pairs' ? p.pairs! : p.has === 'arcs' ? p.arcs! : p.arcsAndPairs!;
}

/** Is there a factor at hand that can be used? */
export function hasFactor(sys: System): boolean {
  const { factor } = atHand(sys);
  return factor !== undefined && factor.failedAt < 0;
}

/** Assembles and factorises the preconditioner's matrix; false where a pivot is not positive. */
export function* makingPreconditioner(sys: System, massFactor: number): Work<boolean> {
  const p = sys.preconditioner;
  assembleMatrix(sys.el, sys.matrix, sys.diag, massFactor);
  yield;
  p.has = wanted(sys);
  if (p.has !== 'nothing') p.made++;
  if (p.has === 'arcs' || p.has === 'arcs and pairs') {
    p.arcs ??= yield* arcKernel().creatingArcBlocks(sys.el);
    yield* arcKernel().assemblingArcBlocks(p.arcs, sys.el, sys.matrix);
  }
  if (p.has === 'nothing') p.factor = yield* factorising(p.symbolic, sys.matrix, p.factor);
  else if (p.has === 'arcs') p.arcs!.factor = yield* factorising(p.arcs!.symbolic, p.arcs!.values, p.arcs!.factor);
  else if (p.has === 'pairs')
    yield* factorisingPairBlocks((p.pairs ??= createPairBlocks(sys.el.shell.pattern, p.symbolic)), sys.matrix, sys.pairs!, sys.model.held);
  else yield* factorisingPairBlocks((p.arcsAndPairs ??= createPairBlocks(p.arcs!.pattern, p.arcs!.symbolic)), p.arcs!.values, sys.pairs!, sys.model.held);
  sys.counts.factorisations++;
  yield;
  if (!hasFactor(sys)) return false;
  if (sys.el.cords) factorCords(sys.el.cords, sys.el.cables!, sys.model.held, (b, x) => solveFactor(sys, b, x));
  return !sys.schur || bodyKernel().factorSchur(sys.schur, sys.bodies!, massFactor, (b, x) => solveSheet(sys, b, x));
}

function solveFactor(sys: System, r: Float64Array, z: Float64Array): void {
  const { symbolic, factor } = atHand(sys);
  solve(symbolic, factor!, r, z);
}

/** z = (factor at hand, and the cords)^-1 r. */
function solveSheet(sys: System, r: Float64Array, z: Float64Array): void {
  solveFactor(sys, r, z);
  if (sys.el.cords) preconditionCords(sys.el.cords, r, z);
}

/** z = (factor at hand, the cords and rigid contents)^-1 r. */
export function precondition(sys: System, r: Float64Array, z: Float64Array): void {
  solveSheet(sys, r, z);
  if (sys.schur) bodyKernel().applySchur(sys.schur, sys.bodies!, r, z);
}
