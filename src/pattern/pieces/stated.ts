/** What a caller states besides the bag, held to its range. */
import { type Bag, BagError, type Fault } from '../../bag/types.ts';

/** Least and most of each figure that may be stated, and its unit as it is told. */
export type Ranges<K extends string> = Readonly<Record<K, readonly [least: number, most: number, unit: string]>>;

/** Faults of figures outside their ranges; what is not stated has none. */
export function rangeFaults<K extends string>(stated: Readonly<Partial<Record<K, unknown>>>, ranges: Ranges<K>): Fault[] {
  return (Object.keys(ranges) as K[]).flatMap((key) => {
    const value = stated[key],
      [least, most, unit] = ranges[key];
    if (value === undefined || value === null || (typeof value === 'number' && value >= least && value <= most)) return [];
    return [{ path: key, got: typeof value === 'string' ? JSON.stringify(value) : String(value), expected: `a number from ${least} to ${most}${unit}` }];
  });
}

/** A BagError with all of them, where there are any; also where what should be a bag is none. */
export function assertStated(bag: Bag, faults: readonly Fault[]): void {
  const read = Array.isArray((bag as Bag | null | undefined)?.panels);
  const all = read ? faults : [{ path: 'bag', got: bag === null ? 'null' : typeof bag, expected: 'a bag as parseBag returns it' }, ...faults];
  if (all.length > 0) throw new BagError(all);
}
