import { describe, expect, it } from 'vitest';
import { bagJsonSchema, parseBagDocument, printBag } from '../../src/bag/index.ts';
import { edited } from '../../src/pattern/index.ts';
import { REFERENCES } from '../../src/pattern/references.ts';

type Form = Record<string, unknown>;
type Node = {
  properties?: Record<string, Node>;
  additionalProperties?: Node | boolean;
  items?: Node;
  prefixItems?: Node[];
  anyOf?: Node[];
  type?: string;
  enum?: unknown;
  const?: unknown;
};

/** Paths of the schema whose value is a text of one's own, and of those whose keys are. */
function textsOf(schema: Node): { values: Set<string>; keys: Set<string> } {
  const [values, keys] = [new Set<string>(), new Set<string>()];
  const visit = (node: Node, path: string): void => {
    for (const [key, inner] of Object.entries(node.properties ?? {})) visit(inner, path === '' ? key : `${path}.${key}`);
    if (typeof node.additionalProperties === 'object') {
      keys.add(path);
      visit(node.additionalProperties, `${path}.*`);
    }
    if (node.items) visit(node.items, path);
    for (const inner of [...(node.prefixItems ?? []), ...(node.anyOf ?? [])]) visit(inner, path);
    if (node.type === 'string' && node.enum === undefined && node.const === undefined) values.add(path);
  };
  visit(schema, '');
  return { values, keys };
}

/** Last words of paths whose text is a figure, a formula, a stack, a material or words: no name of a part of the bag's drawing. */
const PLAIN = new Set(
  (
    'at radius through rise width height bottom top diameter centre grain outline above below inside fold angle points offset stitch thread stack origin name note $schema source ' +
    'allowance trimmed to over gather ratio stiffness rest length drop from-left rigidity stretch formed mass stops-short size gap pull-off slider drawn-to friction slope apart tilt ' +
    'round turn depth load repose fused bonded loose inset ease from-right from-top weight thickness'
  ).split(' '),
);

describe('names of panels, edges, lines, marks, straps and closures, wherever they are written', () => {
  const schema = bagJsonSchema() as Node;
  it('every text of the schema outside materials and stacks is in the table of references or known to be none', () => {
    const { values, keys } = textsOf(schema);
    const strangers = [...values].filter((path) => {
      if (REFERENCES.values[path] || /^(materials|stacks|parameters|labels|options)\b/.test(path)) return false;
      // An edge's own name, where it is drawn.
      if (/\.(outline|half)\.edge$/.test(path)) return false;
      return !PLAIN.has((path.split('.').pop() ?? '').replace(/ /g, '-'));
    });
    expect(strangers).toEqual([]);
    // Keys that are the maker's own names of the thing itself.
    const own =
      'parameters labels panels.*.chains panels.*.marks panels.*.regions panels.*.lines seams straps members hardware closures materials stacks options stances'.split(
        ' ',
      );
    expect([...keys].filter((path) => !REFERENCES.keys[path] && !own.includes(path) && !path.startsWith('materials'))).toEqual([]);
    // And nothing in the table that the schema does not have.
    expect(Object.keys(REFERENCES.values).filter((path) => !values.has(path))).toEqual([]);
  });

  const sheet = (more: Form): Form => ({ role: 'body', ...more });
  const stretch = 'top[edge(wall.top)/4..75%]';
  /** A reference of every kind, to the panel "wall" and from it. */
  const all: Form = {
    slumpline: 1,
    parameters: { W: '200 mm', H: 'edge(wall.bottom)/2 + 60 mm' },
    panels: {
      wall: sheet({
        rectangle: { width: 'W', height: '160 mm' },
        open: ['top', 'left', 'right'],
        chains: { round: ['right', 'top'] },
        marks: { notch: 'bottom[10%]', 'notch 2': 'bottom[60%]' },
        clips: [{ edge: 'top[0%..10%]' }, { point: 'top[50%]' }],
        regions: { tape: { stack: 'plain', along: 'wall.top', width: '10 mm' } },
        topstitch: [{ along: ['left'], offset: '3 mm' }],
        finishes: { [stretch]: { finish: 'turned once', width: '10 mm' } },
        lines: {
          score: {
            points: [
              [0, '80 mm'],
              ['W', '80 mm'],
            ],
          },
        },
      }),
      rear: sheet({ copy: 'wall', open: ['top', 'left', 'right'] }),
      turned: sheet({ mirror: 'wall', open: ['top', 'left', 'right', 'bottom'] }),
      lid: sheet({ rectangle: { width: 'edge(wall.bottom[0 mm..100%])*2', height: '90 mm' }, open: ['top', 'left', 'right'] }),
      cup: sheet({ rectangle: { width: 'W', height: '90 mm' }, open: ['top', 'left', 'right'] }),
    },
    seams: {
      A: ['lid.bottom[0%..50%]', ['rear.bottom']],
      B: { join: ['wall.bottom', 'cup.bottom'], gather: [{ from: 'wall.notch', to: 'wall.notch 2', ratio: 1.2 }] },
    },
    straps: {
      handle: { width: '20 mm', length: '400 mm', stack: 'plain', from: { panel: 'wall', 'from left': '40 mm' }, to: 'mirrored', 'also on': ['rear'] },
      across: {
        width: '20 mm',
        length: '500 mm',
        stack: 'plain',
        from: { panel: 'rear', 'from left': '90 mm', 'from top': '60 mm' },
        to: { panel: 'wall', 'from left': '90 mm', 'from top': '60 mm' },
      },
      first: {
        width: '20 mm',
        length: '400 mm',
        stack: 'plain',
        from: { panel: 'turned', 'from left': '65 mm', 'from top': '100 mm' },
        to: 'mirrored',
        'also on': ['wall'],
      },
    },
    members: {
      cord: { kind: 'paper cord', along: ['rear.top', 'wall.top[10%..90%]'] },
      bone: { kind: 'plastic boning', along: 'wall.score' },
    },
    hardware: {
      feet: { kind: 'foot', panel: 'wall', at: [['W/4', '40 mm'], 'bottom[50%]'] },
      ring: { kind: 'ring', panel: 'rear', at: [['edge(wall.bottom)/2', '60 mm']] },
    },
    closures: {
      snap: { kind: 'snap', from: { panel: 'wall', at: 'top[50%]' }, to: { panel: 'rear', at: ['W/2', '140 mm'] } },
      zip: { kind: 'coil zip', join: ['wall.left', ['rear.left']] },
      cord: { kind: 'drawstring', along: ['wall.top', 'rear.top'], 'drawn to': 'W' },
      clip: { kind: 'buckle', from: { panel: 'rear', at: ['W/3', '140 mm'] }, to: { panel: 'lid', at: ['W', '60 mm'] } },
    },
    stacks: { plain: ['canvas10'] },
    options: { one: { 'every panel': 'plain', wall: 'plain', 'wall/tape': 'plain' } },
    stances: { standing: { closed: ['snap', 'clip'] }, hung: { from: 'bar', straps: ['handle', 'handle on rear', 'first on wall'] } },
  };
  /** Where in the file something of the table stands, as the schema's paths. */
  const used = (value: unknown, node: Node, path: string, found: Set<string>): Set<string> => {
    if (typeof value === 'string') found.add(path);
    for (const inner of node.anyOf ?? []) used(value, inner, path, found);
    if (Array.isArray(value)) for (const v of value) for (const inner of [node.items, ...(node.prefixItems ?? [])]) if (inner) used(v, inner, path, found);
    if (value !== null && typeof value === 'object' && !Array.isArray(value))
      for (const [key, v] of Object.entries(value)) {
        const inner = node.properties?.[key] ?? (typeof node.additionalProperties === 'object' ? node.additionalProperties : undefined);
        if (inner) used(v, inner, node.properties?.[key] ? (path === '' ? key : `${path}.${key}`) : `${path}.*`, found);
      }
    return found;
  };

  it('the bag of this test has each of the 27 kinds of place in it', () => {
    const places = used(all, schema, '', new Set());
    expect(Object.keys(REFERENCES.values).filter((path) => !places.has(path))).toEqual([]);
    expect(Object.keys(REFERENCES.values)).toHaveLength(27);
  });

  it('a panel called otherwise is called so in every place: the bag read back is the same one, name for name', () => {
    const from = parseBagDocument(all);
    const made = edited(from.document, from.bag, { do: 'rename', panel: 'wall', name: 'face' }, 'mm')!;
    expect(printBag(made.document)).not.toContain('wall');
    expect(JSON.stringify(made.bag)).toBe(JSON.stringify(from.bag).replaceAll('wall', 'face'));
    const back = edited(made.document, made.bag, { do: 'rename', panel: 'face', name: 'wall' }, 'mm')!;
    expect(printBag(back.document)).toBe(printBag(from.document));
  });

  it('a panel taken off the table takes with it what cannot be without it, and no name of it is left; what another can carry goes on', () => {
    const from = parseBagDocument(all);
    const made = edited(from.document, from.bag, { do: 'delete panel', panel: 'wall' }, 'mm')!;
    expect(printBag(made.document)).not.toContain('wall');
    const value = made.document.value as Record<string, Form>;
    expect(Object.keys(value.closures)).toEqual(['clip']);
    expect(Object.keys(value.members)).toEqual(['cord']);
    expect((value.members.cord as Form).along).toEqual(['rear.top']);
    expect(Object.keys(value.hardware)).toEqual(['ring']);
    expect(Object.keys(value.straps)).toEqual(['handle', 'first']);
    expect(value.stances).toEqual({ standing: { closed: ['clip'] }, hung: { from: 'bar', straps: ['handle'] } });
    expect(value.options).toEqual({ one: { 'every panel': 'plain' } });
    expect(made.notes.join(' ')).toContain('Closure zip is taken off with it.');
    expect(made.notes.join(' ')).toContain('Hardware feet is taken off with it.');
  });

  it('a drawn line or a mark taken off takes the boning along it and the gather from it', () => {
    const from = parseBagDocument(all);
    const line = edited(from.document, from.bag, { do: 'delete inside', panel: 'wall', what: 'line', name: 'score' }, 'mm')!;
    expect(line.bag.members?.map((m) => m.name)).toEqual(['cord']);
    expect(line.notes).toEqual(['Line bone is taken off with it.']);
    const mark = edited(from.document, from.bag, { do: 'delete inside', panel: 'wall', what: 'mark', name: 'notch' }, 'mm')!;
    expect(mark.bag.seams.find((s) => s.name === 'B')?.bunches).toBeUndefined();
  });
});
