import { bagTextIn, type Executor } from '../index.ts';

/** Everything the command line needs of the machine; slumpline.ts wires it to the real one, tests to memory. */
export interface Io {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** true when a line on stderr can be written over. */ readonly errIsTerminal: boolean;
  /** true when stdout understands bold and faint. */ readonly outIsTerminal: boolean;
  readonly readFile: (path: string) => Promise<string>;
  /** All of standard input. */ readonly readInput: () => Promise<string>;
  readonly writeFile: (path: string, data: string | Uint8Array) => Promise<void>;
  readonly exists: (path: string) => Promise<boolean>;
  readonly rename: (from: string, to: string) => Promise<void>;
  /** Removes a file; no complaint when it is not there. */ readonly remove: (path: string) => Promise<void>;
  readonly mkdir: (path: string) => Promise<void>;
  /** Fails with the system's error where neither the folder nor, as long as it is not there, the one it would be made in can be written to. */
  readonly mayWrite: (folder: string) => Promise<void>;
  /** Names in a folder; none where there is no such folder. */ readonly list: (folder: string) => Promise<readonly string[]>;
  /** Hands over the whole lines of a file of any size, piece by piece; resolves to the bytes that they take: what lies behind is a line cut short. */
  readonly readLines: (path: string, take: (text: string) => void) => Promise<number>;
  /** Opens a file to add lines to its end, after `from` bytes; what lay behind is cut off. Each line is on the disk when its promise resolves. */
  readonly appendTo: (path: string, from: number) => Promise<{ readonly add: (line: string) => Promise<void>; readonly close: () => Promise<void> }>;
  /** ms */ readonly now: () => number;
  /** Seconds that all cores have worked for this program. */ readonly cpuSeconds: () => number;
  /** Cores of the machine. */ readonly cores: number;
  /** Threads to settle in; none where the machine has none. */
  readonly startWorkers?: (count: number) => { readonly executor: Executor; readonly end: () => void };
  /** Calls back on Ctrl-C until the returned function is called. */ readonly onInterrupt: (stop: () => void) => () => void;
}

/** A complaint that ends the run: what to say on stderr, and the exit code. */
export class Failure extends Error {
  constructor(
    message: string,
    readonly code: number,
  ) {
    super(message);
    this.name = 'Failure';
  }
}

export const EXIT = { ok: 0, program: 1, input: 2, notSettled: 3, failed: 4, interrupted: 130 } as const;

/** The path that stands for standard input. */
export const INPUT = '-';

/** A file as messages name it. */
export const named = (path: string): string => (path === INPUT ? 'standard input' : path);

/** Contents of a file, or of standard input where the path is "-", of a report the bag file inside it; a Failure that says in words why it cannot be had. */
export async function readText(io: Io, path: string): Promise<string> {
  try {
    return bagTextIn(await (path === INPUT ? io.readInput() : io.readFile(path)));
  } catch (error) {
    throw new Failure(`cannot read ${named(path)}: ${plainCause(error)}\n`, EXIT.input);
  }
}

/**
 * What `read` makes of each of several files, in order. Every file is read before anything else is done with them: one Failure lists what is wrong with
 * all of them. "-" may be given once. unread: what to make of a file that cannot be had; default: it is a fault like the others.
 */
export async function readEach<T>(
  io: Io,
  paths: readonly string[],
  read: (path: string, text: string) => T,
  unread: (path: string, why: Failure) => T = (_, why) => {
    throw why;
  },
): Promise<T[]> {
  if (paths.filter((p) => p === INPUT).length > 1) throw new Failure('"-" is given twice: standard input can be read once\n', EXIT.input);
  const made: T[] = [];
  const failed: string[] = [];
  for (const path of paths) {
    try {
      const text = await readText(io, path).catch((why: Failure) => why);
      made.push(text instanceof Failure ? unread(path, text) : read(path, text));
    } catch (error) {
      if (!(error instanceof Failure)) throw error;
      failed.push(error.message);
    }
  }
  if (failed.length > 0) throw new Failure(failed.join(''), EXIT.input);
  return made;
}

/** Asked before a run of minutes whose files could not be kept afterwards. Nothing where no folder is asked for. */
export async function assertWritable(io: Io, folder: string | undefined): Promise<void> {
  if (folder === undefined) return;
  if (folder.trim() === '') throw new Failure('--out "": expected the name of a folder; "." is the one you are in\n', EXIT.input);
  try {
    await io.mayWrite(folder);
  } catch (error) {
    throw new Failure(`cannot write to ${folder}: ${plainCause(error)}\n`, EXIT.input);
  }
}

/** System error codes in words. */
export function plainCause(error: unknown): string {
  const code = typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : '';
  const words: Readonly<Record<string, string>> = {
    ENOENT: 'there is no such file or folder',
    EACCES: 'permission denied',
    EPERM: 'permission denied',
    EISDIR: 'it is a folder',
    ENOTDIR: 'part of the path is a file, not a folder',
    EEXIST: 'a file of that name is in the way',
    ENOSPC: 'the disk is full',
    EROFS: 'the disk is read-only',
    ENAMETOOLONG: 'the name is too long',
  };
  return words[code] ?? (error instanceof Error ? error.message : String(error));
}

export interface OutFile {
  readonly path: string;
  readonly text: string | Uint8Array;
}

/** A folder of a file's own name would stop the renaming half way. */
async function assertNoFolder(io: Io, path: string): Promise<void> {
  const isFolder =
    (await io.exists(path)) &&
    (await io.list(path).then(
      () => true,
      () => false,
    ));
  if (isFolder) throw new Failure(`cannot write to ${path}: it is a folder; nothing was written\n`, EXIT.input);
}

/**
 * Gives files written under temporary names their own. What had a name already is put aside first and back again where a later renaming fails, so that the set is
 * the new one or the old one; of a single file one renaming is all it takes.
 */
async function renameTogether(io: Io, temporary: readonly string[], files: readonly OutFile[]): Promise<void> {
  const aside = new Map<string, string>();
  const named: string[] = [];
  try {
    for (const [i, { path }] of files.entries()) {
      if (files.length > 1 && (await io.exists(path))) {
        await io.rename(path, `${path}.before`);
        aside.set(path, `${path}.before`);
      }
      await io.rename(temporary[i], path);
      named.push(path);
    }
  } catch (error) {
    for (const path of named) if (!aside.has(path)) await io.remove(path).catch(() => undefined);
    for (const [path, before] of aside) await io.rename(before, path).catch(() => undefined);
    throw error;
  }
  for (const before of aside.values()) await io.remove(before).catch(() => undefined);
}

/**
 * Writes a set of files as one: all under temporary names first, then renamed. When anything fails, or Ctrl-C comes before the renaming,
 * the temporary files are removed and the old files stay as they were.
 */
export async function writeTogether(io: Io, folders: readonly string[], files: readonly OutFile[]): Promise<void> {
  const temporary = files.map((f) => `${f.path}.part`);
  let stopped = false;
  const release = io.onInterrupt(() => {
    stopped = true;
  });
  const halt = () => {
    if (stopped) throw new Failure('stopped; nothing was written\n', EXIT.interrupted);
  };
  try {
    for (const folder of folders) await io.mkdir(folder);
    for (const { path } of files) await assertNoFolder(io, path);
    for (const [i, f] of files.entries()) {
      await io.writeFile(temporary[i], f.text);
      halt();
    }
    await renameTogether(io, temporary, files);
  } catch (error) {
    for (const path of temporary) await io.remove(path).catch(() => undefined);
    if (error instanceof Failure) throw error;
    // One file is named itself: what stands in its way may be no fault of its folder.
    throw new Failure(`cannot write to ${files.length === 1 ? files[0].path : folders[0]}: ${plainCause(error)}\n`, EXIT.input);
  } finally {
    release();
  }
}
