/**
 * What friction of one kind of contact remembers between accepted states: each contact's tangential stretch by its key, and all positions it belongs to. Two sets,
 * written by turns, so that one can be read while the next is noted.
 */
export interface FrictionMemory {
  /** Where a contact's stretch begins in `stretch`, by its key. */ slots: Map<number, number>;
  /** 3 per contact, m */ stretch: Float64Array;
  /** The set that noteStretch() writes. */ nextSlots: Map<number, number>;
  nextStretch: Float64Array;
  /** 3n: the accepted positions. */ readonly committed: Float64Array;
}

/** A copy of what is remembered. */
export type SavedMemory = Pick<FrictionMemory, 'slots' | 'stretch' | 'committed'>;

/** Nothing remembered yet, of n vertices. */
export const createMemory = (n: number): FrictionMemory => ({
  slots: new Map(),
  stretch: new Float64Array(3 * 64),
  nextSlots: new Map(),
  nextStretch: new Float64Array(3 * 64),
  committed: new Float64Array(3 * n),
});

/** Where the contact's stretch begins in `stretch`; -1: it did not touch. */
export const slotOf = (m: FrictionMemory, key: number): number => m.slots.get(key) ?? -1;

/** Notes a stretch, m, of the state about to be accepted. Mutates m. */
export function noteStretch(m: FrictionMemory, key: number, ex: number, ey: number, ez: number): void {
  const q = 3 * m.nextSlots.size;
  if (q + 3 > m.nextStretch.length) {
    const longer = new Float64Array(2 * m.nextStretch.length);
    longer.set(m.nextStretch);
    m.nextStretch = longer;
  }
  m.nextSlots.set(key, q);
  m.nextStretch[q] = ex;
  m.nextStretch[q + 1] = ey;
  m.nextStretch[q + 2] = ez;
}

/** What was noted replaces what was remembered; contacts not noted are forgotten. x: the accepted positions. Mutates m. */
export function acceptNoted(m: FrictionMemory, x: Float64Array): void {
  const { slots, stretch } = m;
  m.slots = m.nextSlots;
  m.stretch = m.nextStretch;
  slots.clear();
  m.nextSlots = slots;
  m.nextStretch = stretch;
  m.committed.set(x);
}

/** Copy of what is remembered, for restoreMemory(). */
export const saveMemory = (m: FrictionMemory): SavedMemory => ({
  slots: new Map(m.slots),
  stretch: m.stretch.slice(0, 3 * m.slots.size),
  committed: m.committed.slice(),
});

/** Forgets all contacts. Mutates m. */
export const clearMemory = (m: FrictionMemory): void => m.slots.clear();

/** Back to what was saved. Mutates m. */
export function restoreMemory(m: FrictionMemory, saved: SavedMemory): void {
  m.slots = new Map(saved.slots);
  if (saved.stretch.length > m.stretch.length) m.stretch = new Float64Array(2 * saved.stretch.length);
  m.stretch.set(saved.stretch);
  m.committed.set(saved.committed);
}
