import type { Core } from './core.ts';
import { nearest } from './faults.ts';
import { EXIT, Failure, type Io } from './io.ts';

/** What of JSON schema (draft 2020-12) the bag file's own uses. */
interface Schema {
  readonly type?: string;
  readonly description?: string;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly anyOf?: readonly Schema[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: Schema | boolean;
  readonly items?: Schema;
  readonly prefixItems?: readonly Schema[];
}

/** Names that entries of a part are given: "panels" holds <panel>s. */
const ENTRY: Readonly<Record<string, string>> = {
  parameters: '<parameter>',
  panels: '<panel>',
  seams: '<seam>',
  straps: '<strap>',
  materials: '<material>',
  stacks: '<stack>',
  options: '<option>',
  stances: '<stance>',
  regions: '<region>',
  marks: '<mark>',
  chains: '<chain>',
  lines: '<line>',
};

/** What keys are for, where neither name nor schema says it; by the keys above them. */
const NOTES: Readonly<Record<string, string>> = {
  '<panel>': 'drawn in one way: rectangle, trapezoid, circle, outline, half, copy or mirror',
  '<panel> rectangle':
    'edges bottom, right, top, left; a rounded corner is an edge of its own, called after the two it joins: bottom-right, right-top, top-left, left-bottom',
  '<panel> trapezoid': 'edges bottom, right, top, left',
  '<panel> circle': 'its one edge is called rim',
  '<panel> outline':
    'corners counterclockwise, each with the edge that leaves it; the arc of a rounded corner is called after the edge before and the edge after it: "bottom-right"',
  chains: 'edges that follow each other under one name, the arcs of rounded corners among them: a strip is sewn round "front.around"',
  open: 'edges that stay unsewn: the mouth, and every other edge of the body that no seam takes up',
  '<stack>': 'layers from the face inward, each a material or {"loose" | "fused" | "bonded": material}; or figures of a finished stack',
  '<option>': 'a stack for "every panel", and for panels and "panel/region" of their own',
  '<seam> join': 'the edges, stretches or chains that are sewn together: "front.left", "front.top[10%..90%]", or a list that runs on',
};

/** Written forms that come up everywhere, by how the schema describes them. */
const COMMON: readonly (readonly [name: string, starts: string])[] = [
  ['size', 'length, angle or number'],
  ['figure', 'a figure with its unit'],
  ['point', '[x, y] in the panel'],
];
const commonOf = (s: Schema): string | undefined => COMMON.find(([, starts]) => s.description?.startsWith(starts))?.[0];

/**
 * `keys [PART] [--json]`: the keys of a bag file, each with what may stand there, read off the schema that files are checked against; of one part
 * ("panels") or all. --json prints the schema itself, for an editor that completes and checks.
 * "results" prints the schema of result.json, "batch" that of what settle prints for several files with --json, "shelf" that of a shelf file, "sweep" that of the
 * table.json of a sweep. Exit 2 for an unknown part.
 */
export function keys(io: Io, core: Core, part: string | undefined, json: boolean): number {
  const other = { results: core.resultsJsonSchema, batch: core.batchJsonSchema, shelf: core.shelfJsonSchema, sweep: core.runsJsonSchema }[part ?? ''];
  if (other) {
    io.out(`${JSON.stringify(other(), null, 2)}\n`);
    return EXIT.ok;
  }
  const schema = core.bagJsonSchema() as Schema & { readonly properties: Readonly<Record<string, Schema>> },
    parts = Object.keys(schema.properties);
  if (part !== undefined && !parts.includes(part)) {
    const guess = nearest(part, parts);
    throw new Failure(
      `unknown part "${part.slice(0, 60)}"${guess === null ? '' : `; did you mean "${guess}"?`}\na bag file has: ${parts.join(', ')}\n`,
      EXIT.input,
    );
  }
  if (json) {
    io.out(`${JSON.stringify(part === undefined ? schema : schema.properties[part], null, 2)}\n`);
    return EXIT.ok;
  }
  const shown = part === undefined ? parts : [part];
  const head =
    part === undefined
      ? [
          'Keys of a bag file (JSON). Those with * must be there; <…> is a name of your own. slumpline keys PART shows one part.',
          'size: length, angle or number with its unit or a formula: "300 mm", "12 3/8 in", "W/2 - R", "30 deg"; 0 needs no unit',
          'figure: a figure with its unit: "10 oz/yd2", "55 uN.m", "5 kN/m"; point: [size, size], x right, y up the panel seen from its face',
          '',
        ]
      : [];
  io.out([...head, ...shown.flatMap((name) => lines(name, schema.properties[name]!, schema.required?.includes(name) ?? false, [])), ''].join('\n'));
  return EXIT.ok;
}

/** A key and all that may stand under it, a line each. */
function lines(name: string, schema: Schema, must: boolean, above: readonly string[]): string[] {
  const forms = formsOf(schema),
    objects = forms.filter((f) => f.properties !== undefined),
    named = forms.find((f) => typeof f.additionalProperties === 'object'),
    note = NOTES[[...above.slice(-1), name].join(' ')] ?? NOTES[name],
    said = [wordsOf(schema), commonOf(schema) ? '' : (schema.description ?? ''), note ?? ''].filter((w) => w !== '');
  const indent = '  '.repeat(above.length),
    own = `${indent}${name}${must ? '*' : ''}${said.length > 0 ? `: ${said.join('; ')}` : ''}`;
  const under = objects.flatMap((o) =>
    Object.entries(o.properties!).flatMap(([key, s]) => lines(key, s, o.required?.includes(key) ?? false, [...above, name])),
  );
  return [own, ...under, ...(named ? lines(ENTRY[name] ?? '<name>', named.additionalProperties as Schema, false, [...above, name]) : [])];
}

/** The ways in which something may be written, lists by what they list. */
const formsOf = (s: Schema): readonly Schema[] => (s.anyOf ? s.anyOf.flatMap(formsOf) : s.items ? formsOf(s.items) : [s]);

/** What may stand there in a word or two; '' for an object, whose keys say it. */
function wordsOf(s: Schema): string {
  const common = commonOf(s);
  if (common) return common;
  if (s.enum) return s.enum.map((v) => JSON.stringify(v)).join(' | ');
  if (s.const !== undefined) return JSON.stringify(s.const);
  if (s.prefixItems) return `[${s.prefixItems.map((i) => wordsOf(i) || 'entry').join(', ')}]`;
  if (s.items) return `list of ${wordsOf(s.items) || 'entries'}`;
  if (s.anyOf) {
    const words = [...new Set(s.anyOf.map((o) => wordsOf(o) || (o.properties ? 'keys as below' : '')).filter((w) => w !== ''))];
    // A size may be text or a bare 0: its description says more than that.
    return s.description && words.every((w) => w === 'text' || w === 'number') ? '' : words.join(', or ');
  }
  return s.type === 'string' ? 'text' : s.type === 'number' || s.type === 'integer' ? 'number' : s.type === 'boolean' ? 'true | false' : '';
}
