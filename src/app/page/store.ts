import type { Bag, EarlyNews, Fault, Result, Unchecked } from '../core.ts';
import type { Stage, Weight } from '../line-up/solver-protocol.ts';
import type { BagForm, Group } from './bag-form.ts';
import type { UnitChoice } from './format.ts';

/** One option on the mat and its column of the table. */
export interface Column {
  readonly letter: string;
  /** Name of the option in the bag file. */ readonly option: string;
  /** What it is made of, in a few words. */ readonly title: string;
  /** Running now: where it is and since when (performance.now()); null when at rest. */
  readonly stage: (Stage & { readonly since: number }) | null;
  readonly waiting: boolean;
  readonly result: Result | null;
  /** The result belongs to inputs that have changed since. */ readonly stale: boolean;
  /** The word of its typical bolt, certain before the bag is at rest; null where there is none, or the figures are in. */
  readonly early: EarlyNews['word'] | null;
  /** Only the middle of the band is in; the soft and the stiff end follow. */ readonly partial: boolean;
  /** `partial` for another reason: the result came with the page, from a coarser mesh than the chosen one. */ readonly coarse: boolean;
  /** The middle is in, and what it is still checked by comes first. */ readonly checking?: Unchecked['checks'][number] | undefined;
  /** Why there is no result, in words. */ readonly problem: string | null;
}

/** How the bags are shaded: as cloth, or by a map. The last three are worked out when first asked for (heat/). */
export const SHADES = ['cloth', 'curvature', 'strain', 'gap', 'seams'] as const;
export type Shade = (typeof SHADES)[number];
export type HeatShade = Exclude<Shade, 'cloth' | 'curvature'>;

/** Is the shade one of the maps of heat/? */
export const isHeat = (shade: Shade): shade is HeatShade => shade !== 'cloth' && shade !== 'curvature';
export type Fineness = 'quick' | 'medium' | 'fine';

/** Edge length of the settle by choice of mesh, m. */
export const EDGE: Readonly<Record<Fineness, number>> = { quick: 0.022, medium: 0.016, fine: 0.011 };

/** Choices of the viewer, kept apart from the bag: they change no figure except through the mesh. */
export interface Preferences {
  readonly units: UnitChoice;
  readonly shade: Shade;
  readonly fineness: Fineness;
}

export interface State {
  /** The last form that parsed, and its bag. */
  readonly form: BagForm;
  readonly bag: Bag;
  readonly stance: string;
  readonly faults: readonly Fault[];
  /** What keeps the bag from being sewn, so that nothing of it settles; none while nobody has found any. */ readonly refused: readonly Fault[];
  readonly columns: readonly Column[];
  /** Names of the options that are kept and not on the mat. */ readonly off: readonly string[];
  /** Weights of options, by name; those not weighed yet are missing. */ readonly weights: Readonly<Record<string, Weight>>;
  /** Index of the option being edited, and of its panels. */
  readonly editing: number;
  readonly group: Group | 'all';
  readonly preferences: Preferences;
  /** false: the browser refuses to store anything. */ readonly saved: boolean;
  /** false: the bag is kept, but there was no room for the steps of undo. */ readonly stepsKept: boolean;
  /** What undo and redo would take back or do again, in words; null: nothing. */
  readonly undo: string | null;
  readonly redo: string | null;
}

/** Whether nothing but the stages of running settles has changed: they tell of themselves several times a second, and only the mat shows them. */
export function onlyStages(now: State, before: State): boolean {
  if ((Object.keys(now) as (keyof State)[]).some((key) => key !== 'columns' && now[key] !== before[key])) return false;
  return (
    now.columns.length === before.columns.length &&
    now.columns.every((column, i) =>
      (Object.keys(column) as (keyof Column)[]).every((key) => key === 'stage' || key === 'waiting' || column[key] === before.columns[i][key]),
    )
  );
}

/** The page's one piece of state; listeners are told after every change, once per turn of the event loop. */
export class Store {
  private readonly listeners: ((state: State, before: State) => void)[] = [];
  private told: State;
  private queued = false;
  constructor(private current: State) {
    this.told = current;
  }

  get state(): State {
    return this.current;
  }

  listen(listener: (state: State, before: State) => void): void {
    this.listeners.push(listener);
  }

  set(change: Partial<State>): void {
    this.current = { ...this.current, ...change };
    if (this.queued) return;
    this.queued = true;
    queueMicrotask(() => {
      this.queued = false;
      const before = this.told;
      this.told = this.current;
      for (const listener of this.listeners) listener(this.told, before);
    });
  }

  setColumn(index: number, change: Partial<Column>): void {
    this.set({ columns: this.current.columns.map((c, i) => (i === index ? { ...c, ...change } : c)) });
  }
}
