/** Where each home test of a strip still tells something, and which one to take instead. */
import type { Fault } from '../bag/types.ts';
import { loopHeight, pearWidth } from './elastica.ts';
import type { StripReading } from './readings.ts';

/** Overhangs shorter than this, m, curl, cling and read badly; longer ones ask for more strip than a table has. Source: common practice. */
const OVERHANGS = [0.015, 0.35] as const;
/** B = w L^4/(8 drop) holds up to a tenth of the overhang: 0.8 % low there (exact elastica). */
const SMALL_DROP = 0.1;
/**
 * Loads w L^3/B between which a hanging loop tells the rigidity by the height of a heart or the width of a pear: lighter ones hang hardly otherwise than weightless ones.
 * A pear's height is no use: it grows by 6 % from no load to 700, where its width falls by a quarter.
 */
export const LOOP_LOADS = { heart: [10, 700], pear: [50, 700] } as const;

/** What is read of a hanging loop over its length: the height of a heart, which grows with the load, the width of a pear, which falls. */
export const loopReading = (kind: keyof typeof LOOP_LOADS, K: number): number | null => (kind === 'heart' ? loopHeight('heart', K) : pearWidth(K));

/** A length in mm for messages. */
export const mm = (metres: number): string => `${Number((metres * 1000).toPrecision(4))} mm`;

/** What makes a reading useless: a strip too limp or too stiff for its test, with the test to use instead. Parameters: reading; the ruler's division, m. */
export function unfit(s: StripReading, ruler: number): Fault[] {
  const path = `${s.method}.${s.direction}`;
  const faults: Fault[] = [];
  const fault = (got: string, expected: string) => faults.push({ path, got, expected });
  if (s.method === 'overhang') {
    if (s.length < OVERHANGS[0])
      fault(`an overhang of ${mm(s.length)}`, `at least ${mm(OVERHANGS[0])}: too limp for this test, hang the strip as a heart loop`);
    if (s.length > OVERHANGS[1])
      fault(
        `an overhang of ${mm(s.length)}`,
        `at most ${mm(OVERHANGS[1])}: too stiff for this test, read its tip drop at a fixed overhang, or hang it as a pear loop`,
      );
  } else if (s.method === 'tip drop') {
    const most = SMALL_DROP * s.length;
    if (s.value > most)
      fault(
        `a drop of ${mm(s.value)}`,
        `at most ${mm(most)}, a tenth of the overhang: too limp for this test, shorten the overhang or push the strip out to 41.5 deg`,
      );
    if (s.value < 2 * ruler)
      fault(`a drop of ${mm(s.value)}`, `at least two divisions of the ruler, ${mm(2 * ruler)}: too stiff at this overhang, use a longer one`);
  } else if (s.method === 'heart loop') {
    const [least, most] = LOOP_LOADS.heart.map((K) => (loopHeight('heart', K) as number) * s.length);
    if (s.value < least) fault(`a loop ${mm(s.value)} high`, `at least ${mm(least)}: too stiff for this strip, take a longer one or push it out to 41.5 deg`);
    if (s.value > most) fault(`a loop ${mm(s.value)} high`, `at most ${mm(most)}: too limp for this strip, take a shorter one`);
  } else if (s.method === 'pear loop') {
    const [most, least] = LOOP_LOADS.pear.map((K) => (pearWidth(K) as number) * s.length);
    if (s.value > most) fault(`a loop ${mm(s.value)} wide`, `at most ${mm(most)}: too stiff for this strip, take a longer one, or read its tip drop`);
    if (s.value < least) fault(`a loop ${mm(s.value)} wide`, `at least ${mm(least)}: too limp for this strip, take a shorter one or hang it as a heart loop`);
  }
  return faults;
}
