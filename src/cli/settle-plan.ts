import type { Bag } from '../index.ts';
import type { Core } from './core.ts';
import { assertFree } from './cut-flags.ts';
import type { Io } from './io.ts';
import { earlierFiles, folderNames } from './settle-files.ts';
import type { ShapeKind } from './settle-shapes.ts';

/** What of one bag file is settled, as far as the names of its files hang on it. */
interface Asked {
  readonly bag: Bag;
  readonly options: readonly string[];
  readonly stances: readonly string[];
}

/** Paths that `settle --out` will write for one bag into a folder (settle-files.ts), known before anything is settled. */
export function plannedFiles(core: Core, base: string, asked: Asked, maps: boolean, shapes: readonly ShapeKind[]): string[] {
  const { bag, options, stances } = asked;
  const own = ['result.json', 'picture.svg', 'mesh.obj', ...shapes.filter((s) => s !== 'obj').map((s) => `shape.${s}`)];
  const mapped = maps ? core.MAP_NAMES.map((name) => `map-${name}.svg`) : [];
  const within = (folder: string, names: readonly string[]): string[] => names.map((name) => `${folder}/${name}`);
  if (options.length === 1 && stances.length === 1) return within(base, [...own, ...mapped, 'panels.svg', 'report.html']);
  const many = options.length === 1;
  const list = many ? bag.stances : bag.options;
  const names = folderNames(list.map((o) => o.name));
  const folder = (name: string): string => `${base}/${names[list.findIndex((o) => o.name === name)]}`;
  if (!many && stances.length > 1)
    return [...within(base, ['result.json']), ...options.flatMap((o) => plannedFiles(core, folder(o), { bag, options: [o], stances }, maps, shapes))];
  return [
    ...within(base, ['result.json', ...(many ? [] : ['picture.svg', ...mapped]), 'report.html', 'panels.svg']),
    ...(many ? stances : options).flatMap((name) => within(folder(name), [...own, ...(many ? mapped : [])])),
  ];
}

/**
 * Files that are there already and no earlier run of this program left there are not written over without --force. Asked before a run of minutes.
 * sets: each bag's own folder and what will be written into it; beside: what stands beside several of them, and the folder.
 */
export async function assertNoStrangers(
  io: Io,
  core: Core,
  sets: readonly { readonly folder: string; readonly paths: readonly string[] }[],
  beside: { readonly folder: string; readonly paths: readonly string[] } | null,
  force: boolean,
): Promise<void> {
  const earlier = new Set((await Promise.all(sets.map(({ folder }) => earlierFiles(io, folder)))).flat());
  const batch = beside && (await io.readFile(`${beside.folder}/batch.json`).catch(() => ''));
  const ours = batch?.includes(`"format": "${core.BATCH_FORMAT}"`) === true;
  const strangers = [...sets.flatMap(({ paths }) => paths.filter((path) => !earlier.has(path))), ...(beside && !ours ? beside.paths : [])];
  await assertFree(io, strangers, force);
}
