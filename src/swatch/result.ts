import type { Pressed } from '../bag/types.ts';
import type { SettleOptions } from '../solver/index.ts';
import { settle } from '../solver/index.ts';
import type { Model, Progress, Settled, Status } from '../solver/types.ts';
import type { MeshKind, Sheet } from './sheet.ts';

/** Tests that a material can pass through. */
export type TestName =
  | 'cantilever'
  | 'heart'
  | 'ring'
  | 'pear'
  | 'standing'
  | 'leaning'
  | 'drape'
  | 'tube'
  | 'tip'
  | 'board'
  | 'on-edge'
  | 'bias'
  | 'slip'
  | 'corner';

/** What a bench test is run with. What is not given is chosen so that the test reads well on this sheet. */
export interface Setup {
  readonly sheet: Sheet;
  /** Strip length (drape: specimen diameter), m. */ readonly length?: number;
  /** m */ readonly width?: number;
  /** Mesh edge length, m. */ readonly mesh: number;
  readonly kind?: MeshKind;
  /** Angle of the strip from the warp, rad. */ readonly cut?: number;
  readonly seed?: number;
  /** Default arc-corrected. */ readonly formulation?: SettleOptions['formulation'];
  /** Leaning: off vertical, rad. Default 5 deg. */ readonly lean?: number;
  /** Tip: load P L^2/B. Default 1. */ readonly tipLoad?: number;
  /** Slip: coefficient of friction. Default 0.4. */ readonly friction?: number;
  /** Corner: how its seam is pressed; default creased. */ readonly pressed?: Pressed;
  /** Corner: its seam's hinge, instead of that of how it is pressed: N*m/rad per metre, rad. */
  readonly hinge?: { readonly stiffness: number; readonly restAngle: number };
  /** Corner: clamped above the seam instead of below it. Default false. */ readonly seamDown?: boolean;
  /** Tip: leave out the strip's own weight. */ readonly weightless?: boolean;
  /** Drape: the solver's steps, to see what they leave in the result. */ readonly steps?: SettleOptions['steps'];
  /** For watching: told what is let go and where from (3n, not to be kept changed), before every settling. Board settles three times. */
  readonly onStart?: (model: Model, start: Float64Array) => void;
  /** Told every state on the way to rest; return false to cancel. */ readonly onProgress?: Progress;
}

/** The state at rest of a test's model from its start (3n, not mutated), watched as the setup asks. */
export function settleFor(setup: Setup, model: Model, start: Float64Array): Settled {
  setup.onStart?.(model, start);
  return settle(model, start, { formulation: setup.formulation, steps: setup.steps, progress: setup.onProgress });
}

/** One reading of the bench with the theory beside it. */
export interface TestResult {
  readonly test: TestName;
  /** What was read, in `unit`. */ readonly reading: number;
  /** What theory says of the same strip, or null where it has no figure. */ readonly theory: number | null;
  /** reading - theory, in `unit`; null without theory. */ readonly error: number | null;
  readonly unit: 'deg' | 'm' | '1' | '%';
  /** One line: what was read. */ readonly quantity: string;
  readonly status: Status;
  /** Largest unbalanced force over the mean vertex weight. */ readonly residual: number;
  readonly formula: string;
  readonly source: string;
  /** Load w L^3/B of the strip tested, or NaN (drape). */ readonly load: number;
  /** Further figures, SI or as their names say. */ readonly more: Readonly<Record<string, number>>;
  readonly vertices: number;
  readonly model: Model;
  /** 3n positions as settled. */ readonly x: Float64Array;
}

/** Fills in the error and what a settled state says of itself. */
export function finished(
  base: Pick<TestResult, 'test' | 'reading' | 'theory' | 'unit' | 'quantity' | 'formula' | 'source' | 'load' | 'more'>,
  model: Model,
  state: Pick<Settled, 'status' | 'residual' | 'x'>,
): TestResult {
  const error = base.theory === null ? null : base.reading - base.theory;
  return { ...base, error, status: state.status, residual: state.residual, vertices: model.vertexCount, model, x: state.x };
}
