import { type Bag, holdsResults, type Result } from '../index.ts';
import type { Core } from './core.ts';
import type { Io, OutFile } from './io.ts';

/** A bag and the digest of its file, as far as its files want to know. */
export interface Settled {
  readonly bag: Bag;
  /** The file itself, for a report that opens like it. */ readonly text: string;
  readonly bagDigest: string;
  readonly results: readonly Result[];
}

/** What a report's cutting list is made by. */
type Cutting = Awaited<ReturnType<Core['loadCutting']>>;

/** What one call writes into a folder, and the folders that are needed for it, the outermost first. */
export interface FileSet {
  readonly folders: readonly string[];
  readonly files: readonly OutFile[];
}

/** Files of one bag's results in a folder: one result, options, stances, or options each with its stances. */
export function outFiles(core: Core, base: string, done: Settled, maps: boolean, shapes: ReadonlyMap<Result, readonly OutFile[]>, cutting: Cutting): FileSet {
  const { bag, results } = done;
  const options = [...new Set(results.map((r) => r.option))],
    stances = new Set(results.map((r) => r.stance));
  if (options.length === 1 || stances.size === 1) return ofOneKind(core, base, done, maps, shapes, cutting);
  // Options share one mat only within a stance, and stances none: each option has a folder with its stances.
  const names = folderNames(bag.options.map((o) => o.name));
  const sets = options.map((name) =>
    ofOneKind(
      core,
      `${base}/${names[bag.options.findIndex((o) => o.name === name)]}`,
      { ...done, results: results.filter((r) => r.option === name) },
      maps,
      shapes,
      cutting,
    ),
  );
  const others = sets.flatMap((s) => s.files);
  return { folders: [base, ...sets.flatMap((s) => s.folders)], files: traced(core, base, done, results, others) };
}

/** The results' own file names the others, so that the next run can take them away. */
function traced(core: Core, folder: string, { bagDigest, text: bagFile }: Settled, shown: readonly Result[], others: readonly OutFile[]): OutFile[] {
  const files = ['result.json', ...others.map((f) => f.path.slice(folder.length + 1))];
  return [{ path: `${folder}/result.json`, text: core.resultsJson(shown, { bagDigest, files, bagFile }) }, ...others];
}

function ofOneKind(core: Core, base: string, done: Settled, maps: boolean, shapes: ReadonlyMap<Result, readonly OutFile[]>, cutting: Cutting): FileSet {
  const { bag, results, text } = done;
  const mapped = (folder: string, shown: readonly Result[]): OutFile[] => (maps ? mapFiles(core, folder, bag, shown) : []);
  const one = (folder: string, r: Result): OutFile[] => {
    const lead = core.leadRun(r.runs);
    return [
      { path: `${folder}/picture.svg`, text: core.picture([r]) },
      { path: `${folder}/mesh.obj`, text: core.meshObj(r.mesh, lead.positions, `${r.bag}, option ${r.option}, ${r.stance}, ${lead.band} of the band`, bag) },
      ...(shapes.get(r) ?? []).map((made) => ({ ...made, path: `${folder}/${made.path}` })),
    ];
  };
  const flat = (b: Bag, folder: string, option: string): OutFile => ({ path: `${folder}/panels.svg`, text: core.flatSvg(b, core.draftPanels(b), { option }) });
  const own = (folder: string, shown: readonly Result[], others: readonly OutFile[]): OutFile[] => traced(core, folder, done, shown, others);
  if (results.length === 1) {
    const report = { path: `${base}/report.html`, text: core.wholeReport(results, text, bag, cutting) };
    return { folders: [base], files: own(base, results, [...one(base, results[0]), ...mapped(base, results), flat(bag, base, results[0].option), report]) };
  }
  const stances = results.some((r) => r.stance !== results[0].stance);
  const list = stances ? bag.stances : bag.options;
  const names = folderNames(list.map((o) => o.name));
  const folders = results.map((r) => `${base}/${names[list.findIndex((o) => o.name === (stances ? r.stance : r.option))]}`);
  const others = [
    // Stances share no ground and no scale of figures: each has its pictures in its own folder.
    ...(stances ? [] : [{ path: `${base}/picture.svg`, text: core.picture(results) }, ...mapped(base, results)]),
    { path: `${base}/report.html`, text: core.wholeReport(results, text, bag, cutting) },
    flat(bag, base, results[0].option),
    ...results.flatMap((r, i) => own(folders[i], [r], [...one(folders[i], r), ...(stances ? mapped(folders[i], [r]) : [])])),
  ];
  return { folders: [base, ...folders], files: own(base, results, others) };
}

/** Files that an earlier run of this program, of whatever version, left in a folder, as its results name them; none where there are no results of ours. */
export async function earlierFiles(io: Io, folder: string): Promise<string[]> {
  try {
    const text = await io.readFile(`${folder}/result.json`);
    const { files = [] } = holdsResults(text) ? (JSON.parse(text) as { readonly files?: unknown[] }) : {};
    return files.flatMap((f) => (typeof f === 'string' && !f.startsWith('/') && !f.split('/').includes('..') ? [`${folder}/${f}`] : []));
  } catch {
    // No results, or somebody else's: nothing of that is ours to remove.
    return [];
  }
}

/** Every map of what is shown, at one scale: as many options as a picture has room for. */
function mapFiles(core: Core, folder: string, bag: Bag, results: readonly Result[]): OutFile[] {
  const shown = results.slice(0, core.MOST_SHOWN);
  const maps = shown.map((r) => core.settledMaps({ ...r, run: core.leadRun(r.runs) }));
  return core.MAP_NAMES.map((name) => ({ path: `${folder}/map-${name}.svg`, text: core.mapPicture(name, bag, shown, maps) }));
}

/** Option names as folder names: letters, figures and dashes, each different. */
export function folderNames(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name, i) => {
    const plain =
      name
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, '-')
        .replace(/^-+|-+$/g, '')
        .slice(0, 60) || `option-${i + 1}`;
    let free = plain;
    for (let k = 2; taken.has(free); k++) free = `${plain}-${k}`;
    taken.add(free);
    return free;
  });
}
