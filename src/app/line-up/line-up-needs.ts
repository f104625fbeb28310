import type { Result } from '../core.ts';
import type { Subject } from '../view/picture.ts';
import type { StrapLine } from '../view/straps.ts';

/** What shows the bags, by bay: the stage, or drawings where there is no WebGL. */
export interface BayPictures {
  setSubject(bay: number, subject: Subject | null): void;
  show(bay: number, x: ArrayLike<number>, straps?: readonly StrapLine[]): void;
  /** A finished result, for drawings without WebGL. */ finish(bay: number, result: Result): void;
}

/** What was settled at earlier visits, by what it depends on. */
export interface Memory {
  recall(key: string): Promise<Result | null>;
  remember(key: string, result: Result): void;
}
