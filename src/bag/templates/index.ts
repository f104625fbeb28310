/** Twelve bags to start from, each a bag file whose dimensions are parameters, and a bag file of one with some of them written anew. */
import { at, FaultList, oneOf } from '../faults.ts';
import { parseBag, parseBagDocument } from '../parse.ts';
import { printBag, withParameter } from '../print.ts';
import type { Parameter } from '../types.ts';
import { backpack } from './backpack.ts';
import { barrelDuffel } from './barrel-duffel.ts';
import { boxedTote } from './boxed-tote.ts';
import { bucket } from './bucket.ts';
import { crescent } from './crescent.ts';
import { drawstringPouch } from './drawstring-pouch.ts';
import { envelopeClutch } from './envelope-clutch.ts';
import { flatTote } from './flat-tote.ts';
import { frameBag } from './frame-bag.ts';
import { gatheredTote } from './gathered-tote.ts';
import { LABELS } from './labels.ts';
import { pipedTote } from './piped-tote.ts';
import { satchel } from './satchel.ts';
import type { TemplateSource } from './template.ts';

/** A bag to start from. */
export interface Template {
  /** Word that newBag and the command line know it by. */ readonly name: string;
  readonly title: string;
  /** The one thing to look at; also the note of the file. */ readonly question: string;
  /** The bag file. */ readonly text: string;
}

const SOURCES: readonly TemplateSource[] = [
  flatTote,
  boxedTote,
  satchel,
  bucket,
  drawstringPouch,
  envelopeClutch,
  crescent,
  barrelDuffel,
  backpack,
  gatheredTote,
  pipedTote,
  frameBag,
];

function textOf(s: TemplateSource): string {
  const { wanted, parameters, ...rest } = s.bag;
  const labels = Object.fromEntries(Object.keys(parameters).map((name) => [name, LABELS[name]]));
  return printBag({ value: { slumpline: 1, name: s.title, note: s.question, wanted, parameters, labels, ...rest } });
}

/** The templates, simplest first. Deterministic. */
export const templates = (): readonly Template[] => SOURCES.map((s) => ({ name: s.name, title: s.title, question: s.question, text: textOf(s) }));

/**
 * Text of a template's bag file with some parameters written anew; everything else stays as the template has it.
 * Parameters: template name; parameter name -> figure with its unit or formula ("320 mm", "W/2").
 * Errors: BagError for an unknown template or parameter (with the near name), a figure of another kind (a bare number for a length), and
 * every fault that the changed file then has.
 */
export function newBag(name: string, overrides: Readonly<Record<string, string>> = {}): string {
  const faults = new FaultList();
  const source = SOURCES.find((s) => s.name === name);
  if (!source)
    faults.add(
      'template',
      name,
      oneOf(
        'a template',
        name,
        SOURCES.map((s) => s.name),
      ),
    );
  faults.stop();
  let { document } = parseBagDocument(textOf(source as TemplateSource));
  const before = parametersOf(document.value);
  const known = before.map((p) => p.name);
  for (const [key, text] of Object.entries(overrides)) {
    if (typeof text !== 'string') faults.add(at('parameters', key), text, 'a figure with its unit or a formula, in quotes, such as "320 mm" or "W/2"');
    else if (known.includes(key)) document = withParameter(document, key, text.trim());
    else faults.add('parameters', key, oneOf('a parameter of this template', key, known));
  }
  faults.stop();
  parametersOf(document.value).forEach((after, i) => {
    // Otherwise each place that uses the parameter would be reported by itself; formulas that follow from it have nothing to mend.
    if (Object.hasOwn(overrides, after.name) && after.kind !== before[i].kind) faults.add(at('parameters', after.name), after.text, EXPECTED[before[i].kind]);
  });
  faults.stop();
  const text = printBag(document);
  parseBag(text);
  return text;
}

const EXPECTED: Readonly<Record<Parameter['kind'], string>> = {
  length: 'a length with its unit, such as "300 mm" or "12 1/2 in"',
  angle: 'an angle with its unit, such as "30 deg"',
  number: 'a plain number, such as 1.5',
  other: 'a formula of the same kind as in the template',
};

/** The parameters alone, as a file with nothing else in it would resolve them; template parameters never ask for the length of an edge. */
const parametersOf = (file: Readonly<Record<string, unknown>>): readonly Parameter[] =>
  parseBag({ slumpline: 1, parameters: file.parameters, panels: { p: { circle: { diameter: '10 mm' } } }, stacks: { s: ['canvas10'] } }).parameters;
