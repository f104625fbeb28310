// The bars of accuracy against exact shapes, as tables: npm run bench:accuracy [strips | values | plates | seams]. Nothing here is timed or gated; the standards tests gate.
// Ends with one line per bar, met or missed.
import { platesAndDrape } from './accuracy-plates.ts';
import { seams } from './accuracy-seams.ts';
import { strips } from './accuracy-strips.ts';
import { summary } from './accuracy-table.ts';
import { values } from './accuracy-values.ts';

const PARTS: Readonly<Record<string, () => void>> = { strips, values, plates: platesAndDrape, seams };
const asked = process.argv[2];
if (asked !== undefined && !PARTS[asked]) throw new Error(`unknown part "${asked}": expected ${Object.keys(PARTS).join(', ')}`);
for (const [name, run] of Object.entries(PARTS)) if (asked === undefined || asked === name) run();
summary();
