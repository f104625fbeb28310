/** Slips of the pen, and worse, in a bag file: one seed, the same file. */
import { readdirSync, readFileSync } from 'node:fs';
import { templates } from '../../src/bag/index.ts';
import { seeded } from '../../src/numerics/random.ts';
import { sewable } from '../bag/sewable.ts';
import { BOX_PANELS, BOX_SEAMS, bagFile, GUSSETED } from './wrong-bags.ts';

type Node = Record<string, unknown> | unknown[];
interface Place {
  readonly node: Node;
  readonly key: string | number;
}
type File = { panels?: Record<string, Record<string, unknown>>; seams?: Record<string, unknown>; parameters?: Record<string, unknown> };

const JUNK: readonly unknown[] = [
  null,
  true,
  0,
  -1,
  1e308,
  2.5,
  '',
  ' ',
  '0 mm',
  '-5 mm',
  '1e9 m',
  '1e-9 mm',
  'W',
  'W/0',
  '0/0',
  'edge(front.left)',
  [],
  {},
  [[]],
  'NaN',
  '1/0 mm',
];
const SCALES = ['0', '-1', '1e-6', '0.01', '0.5', '1.01', '1.1', '3', '100', '1e6'];

let kept: readonly unknown[] | undefined;

/** Sound files: templates, demos, 60 random ones, two of the tests. */
const soundFiles = (): readonly unknown[] => [
  ...templates().map((t) => JSON.parse(t.text)),
  ...readdirSync('demos')
    .sort()
    .flatMap((name) => (name.endsWith('.bag.json') ? [JSON.parse(readFileSync(`demos/${name}`, 'utf8'))] : [])),
  ...Array.from({ length: 60 }, (_, i) => sewable(i + 1).file),
  bagFile(BOX_PANELS, BOX_SEAMS),
  GUSSETED,
];

/** A sound file with one to four mutations. */
export function mutant(seed: number): unknown {
  const r = seeded(seed);
  kept ??= soundFiles();
  const file = structuredClone(pick(r, kept)) as File;
  for (let times = 1 + Math.floor(4 * r()); times > 0; times--) pick(r, MUTATIONS)(file, r);
  return file;
}

const pick = <T>(r: () => number, list: readonly T[]): T => list[Math.floor(r() * list.length)];
const read = ({ node, key }: Place): unknown => (node as Record<string | number, unknown>)[key];
const write = ({ node, key }: Place, value: unknown): void => {
  (node as Record<string | number, unknown>)[key] = value;
};

function places(value: unknown, out: Place[] = []): Place[] {
  if (value === null || typeof value !== 'object') return out;
  for (const key of Array.isArray(value) ? value.keys() : Object.keys(value)) {
    const place = { node: value as Node, key };
    out.push(place);
    places(read(place), out);
  }
  return out;
}

/** References to edges in the seams. */
const references = (file: File): Place[] =>
  places(file.seams ?? {}).filter((p) => {
    const v = read(p);
    return typeof v === 'string' && /^[^.\s][^.]*\.[^.]/.test(v) && !/\d\s*$/.test(v);
  });

const entries = (record: unknown): string[] => (record !== null && typeof record === 'object' ? Object.keys(record) : []);

const MUTATIONS: readonly ((file: File, r: () => number) => void)[] = [
  function exchangeEdges(file, r) {
    const refs = references(file);
    if (refs.length < 2) return;
    const [a, b] = [pick(r, refs), pick(r, refs)];
    const kept = read(a);
    write(a, read(b));
    write(b, kept);
  },
  function sewElsewhere(file, r) {
    const refs = references(file);
    if (refs.length < 2) return;
    write(pick(r, refs), read(pick(r, refs)));
  },
  function otherEdge(file, r) {
    const refs = references(file);
    if (refs.length === 0) return;
    write(pick(r, refs), `${pick(r, entries(file.panels))}.${pick(r, ['left', 'right', 'top', 'bottom', 'rim', 'around', 'fold', 'bottom-right', 'hole1'])}`);
  },
  function stretch(file, r) {
    const refs = references(file);
    if (refs.length === 0) return;
    const at = pick(r, refs);
    const [a, b] = [Math.round(100 * r()), Math.round(100 * r())];
    write(
      at,
      `${String(read(at)).replace(/\[.*$/, '')}[${pick(r, [`${a}%..${b}%`, `${a}%..`, `..${b} mm`, `${a} mm..${b} mm`, '0..0', '50%..50.0001%', '-5%..105%'])}]`,
    );
  },
  function dropSeam(file, r) {
    const names = entries(file.seams);
    if (names.length > 0) delete file.seams![pick(r, names)];
  },
  function newSeam(file, r) {
    const refs = references(file).map(read);
    if (refs.length > 0) file.seams![`new ${Math.floor(100 * r())}`] = [pick(r, refs), pick(r, refs), ...(r() < 0.2 ? [pick(r, refs)] : [])];
  },
  function seamOptions(file, r) {
    const names = entries(file.seams);
    if (names.length === 0) return;
    const name = pick(r, names);
    const seam = file.seams![name];
    const full = Array.isArray(seam) ? { join: seam } : (seam as object);
    file.seams![name] = {
      ...full,
      ...pick(r, [
        { direction: 'along' },
        { direction: 'against' },
        { gather: 1.5 },
        { gather: 6 },
        { allowance: '90 mm' },
        { allowance: 0 },
        { type: 'fold' },
      ]),
    };
  },
  function dropPanel(file, r) {
    const names = entries(file.panels);
    if (names.length > 0) delete file.panels![pick(r, names)];
  },
  function copyPanel(file, r) {
    const names = entries(file.panels);
    if (names.length > 0) file.panels![`copy ${Math.floor(100 * r())}`] = structuredClone(file.panels![pick(r, names)]);
  },
  function role(file, r) {
    const names = entries(file.panels);
    if (names.length > 0)
      Object.assign(file.panels![pick(r, names)] ?? {}, {
        role: pick(r, ['base', 'front', 'side', 'flap', 'pocket', 'strap', 'trim', 'flat', 'body', 'gusset']),
      });
  },
  function openings(file, r) {
    const names = entries(file.panels);
    if (names.length > 0)
      Object.assign(file.panels![pick(r, names)] ?? {}, {
        open: pick(r, [[], ['top'], ['bottom'], ['left', 'right'], ['top', 'bottom', 'left', 'right'], undefined]),
      });
  },
  function chain(file, r) {
    const names = entries(file.panels);
    if (names.length === 0) return;
    const edges = ['left', 'bottom', 'right', 'top', 'left-bottom', 'bottom-right'].filter(() => r() < 0.5);
    Object.assign(file.panels![pick(r, names)] ?? {}, { chains: { around: edges } });
  },
  function rounding(file, r) {
    const boxes = places(file.panels ?? {}).filter((p) => p.key === 'rectangle' && read(p) !== null && typeof read(p) === 'object');
    if (boxes.length > 0) Object.assign(read(pick(r, boxes)) as object, { radius: pick(r, ['10 mm', '40 mm', ['50 mm', 0, 0, '5 mm'], '0.001 mm', '1 m']) });
  },
  function resize(file, r) {
    const names = entries(file.parameters);
    if (names.length === 0) return;
    const name = pick(r, names);
    const text = String(file.parameters![name]);
    file.parameters![name] = typeof file.parameters![name] === 'number' ? Number(pick(r, SCALES)) : `(${text})*${pick(r, SCALES)}`;
  },
  function moveCorner(file, r) {
    const corners = places(file.panels ?? {}).filter((p) => p.key === 'at' && Array.isArray(read(p)));
    if (corners.length > 0) write(pick(r, corners), [`${Math.round(600 * r() - 200)} mm`, `${Math.round(600 * r() - 200)} mm`]);
  },
  function junk(file, r) {
    const all = places(file);
    if (all.length > 0) write(pick(r, all), structuredClone(pick(r, JUNK)));
  },
  function drop(file, r) {
    const { node, key } = pick(r, places(file));
    if (Array.isArray(node)) node.splice(key as number, 1);
    else delete node[key];
  },
  function exchangeAny(file, r) {
    const all = places(file);
    const [a, b] = [pick(r, all), pick(r, all)];
    const [x, y] = [structuredClone(read(a)), structuredClone(read(b))];
    write(a, y);
    write(b, x);
  },
];
