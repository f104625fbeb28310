import type { Evidence } from '../material/types.ts';
import { formatAngle, formatLength, trimmed } from '../units/index.ts';
import { gateValue, type Threshold, worstGate } from './thresholds.ts';
import type { BandRun, Part, Verdict } from './types.ts';

/** Turns of phrase shared by all reports, so that the page, the terminal and the picture say the same thing. */

/** "240 mm (9 7/16 in)": whole millimetres, because a maker's tolerance is 3-5 mm. */
export const length = (metres: number): string => formatLength(Math.round(metres * 1000) / 1000);

/** "61 %" */
export const percent = (fraction: number): string => `${trimmed(fraction * 100, 0)} %`;

/** Value of a gate as its row shows it. */
export function shown(t: Threshold, value: number | null): string {
  if (value === null) return '-';
  if (t.shown === 'angle') return formatAngle(value);
  if (t.shown === 'length') return length(value);
  return t.shown === 'ratio' ? trimmed(value, 2) : trimmed(value * 100, 1).concat(' %');
}

/** ">= 95 %": where a row stops holding. */
export const limit = (t: Threshold): string => `${t.ideal === 1 ? '>=' : '<='} ${shown(t, t.holds)}`;

/** What came of walls pushed in at the start: height kept and the word by all measures, or that the bag slumped both ways and was not followed to a second heap. */
export function pushedIn({ inward }: BandRun): string {
  if (!inward.ran) return 'not needed';
  if (inward.heightKept === null) return 'slumps too';
  const word = inward.measures && worstGate(inward.measures)?.word;
  return word ? `${percent(inward.heightKept)}, ${word}` : percent(inward.heightKept);
}

/** Name of an end of the material band as makers meet it: a bolt of cloth, or a hide. */
export const BATCH = { low: 'a soft bolt', mid: 'a typical bolt', high: 'a stiff bolt' } as const;

/** The same beside its word. */
export const PIP = { low: 'soft', mid: 'typical', high: 'stiff' } as const;

/** "soft slumps · typical softens · stiff holds: test a swatch"; '' where one run alone was asked for. */
export function pipsLine({ pips, testSwatch }: Pick<Verdict, 'pips' | 'testSwatch'>): string {
  if (pips.length < 2) return '';
  return `${pips.map((p) => `${p.name} ${p.word}${p.follows ? ' (follows)' : ''}`).join(' · ')}${testSwatch ? ': test a swatch' : ''}`;
}

/** The same as a place in the band. */
export const BAND_WORD = { low: 'soft end', mid: 'middle', high: 'stiff end' } as const;

/** What one measure shows, as a clause: "the top edge drops 31 mm (1 1/4 in)". */
export function clause(t: Threshold, run: BandRun): string {
  const value = gateValue(t.gate, run.measures);
  if (value === null) return '';
  switch (t.gate) {
    case 'heightKept':
      return `the rim keeps ${percent(value)} of its height`;
    case 'topEdgeDrop':
      return `the top edge drops ${length(run.measures.topEdgeDrop ?? 0)}`;
    case 'wallLean':
      return `a wall leans ${formatAngle(value)}`;
    case 'footprintKept':
      return `the base lifts: ${percent(value)} of its footprint stays down`;
    case 'bulge':
      return `a wall bulges ${percent(value)} of its width`;
    case 'volumeKept':
      return `${percent(value)} of its volume is left`;
    case 'mouthGap':
      return `the mouth closes to ${percent(value)} of its depth`;
    case 'hangTilt':
      return `it hangs ${formatAngle(value)} off the plumb line`;
    case 'mouthSag':
      return `the mouth sags ${percent(value)} of the height between its straps`;
    case 'baseSag':
      return `the base sags ${length(value)}`;
    case 'dropMiss':
      return `a strap's drop is ${length(value)} off the wanted one`;
  }
}

/** "The front": a panel as the subject of a sentence. */
export const panelSubject = (name: string): string => `The ${/panel|side|end|front|back|gusset|base|body|wall|flap/i.test(name) ? name : `${name} panel`}`;

/** What a figure rests on, as the tag beside it. */
export const evidenceTag = (evidence: Evidence): string => evidence;

/** Standing cautions under every report. */
export const CAUTIONS: readonly string[] = [
  'A preview of shape under weight, from material values that vary from bolt to bolt. Test a strip before you cut expensive material.',
  'It says nothing about strength, wear or how long a bag keeps its shape in use.',
];

/** A stack's story without the reasons behind its figures: what lies on what, its weight and thickness. */
export const shortStory = (story: string): string => story.split(';')[0].trim();

/** "with a paper cord of 5 mm (rim), 4 feet of 12 mm (feet)" as one line; none where the bag has neither members nor hardware. */
export const partsWords = (parts: readonly Part[] | undefined): string[] =>
  parts && parts.length > 0 ? [`with ${parts.map((p) => `${p.what} (${p.name})`).join(', ')}`] : [];
