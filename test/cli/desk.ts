import type { Core } from '../../src/cli/core.ts';
import { core } from '../../src/cli/core.ts';
import type { Io } from '../../src/cli/io.ts';
import { main } from '../../src/cli/main.ts';

/** A machine in memory: files by path, what was said, and a few ways to go wrong. */
export interface Desk {
  readonly files: Map<string, string>;
  readonly folders: string[];
  out: string;
  err: string;
  /** Folder that cannot be written to. */ locked?: string;
  /** Path whose writing, or whose being given its name, fails with this code. */ failing: { path: string; code: string } | null;
  /** Threads, where the desk has any. */ startWorkers?: Io['startWorkers'];
  /** ms; without it each look at the clock is 7 ms after the last. */ clock?: () => number;
  /** Ctrl-C comes while this path is being written. */ interruptAt: string | null;
}

export function createDesk(files: Readonly<Record<string, string>> = {}): Desk {
  return { files: new Map(Object.entries(files)), folders: [], out: '', err: '', failing: null, interruptAt: null };
}

function ioOf(desk: Desk, terminal = false): Io {
  const handlers = new Set<() => void>();
  const coded = (code: string) => Object.assign(new Error(code), { code });
  let clock = 0;
  return {
    out: (text) => {
      desk.out += text;
    },
    err: (text) => {
      desk.err += text;
    },
    errIsTerminal: terminal,
    outIsTerminal: terminal,
    readFile: async (path) => {
      const text = desk.files.get(path);
      if (text === undefined) throw coded('ENOENT');
      return text;
    },
    readInput: async () => desk.files.get('-') ?? '',
    writeFile: async (path, data) => {
      if (desk.failing?.path === path) throw coded(desk.failing.code);
      desk.files.set(path, typeof data === 'string' ? data : Buffer.from(data).toString('latin1'));
      if (desk.interruptAt === path) for (const stop of handlers) stop();
    },
    exists: async (path) => desk.files.has(path) || [...desk.files.keys()].some((other) => other.startsWith(`${path}/`)),
    rename: async (from, to) => {
      if (desk.failing?.path === to && from === `${to}.part`) throw coded(desk.failing.code);
      desk.files.set(to, desk.files.get(from)!);
      desk.files.delete(from);
    },
    remove: async (path) => void desk.files.delete(path),
    mkdir: async (path) => void desk.folders.push(path),
    mayWrite: async (folder) => {
      if (desk.locked === folder) throw coded('EACCES');
    },
    list: async (folder) => {
      if (desk.files.has(folder)) throw coded('ENOTDIR');
      return [...desk.files.keys()].filter((path) => path.startsWith(`${folder}/`)).map((path) => path.slice(folder.length + 1));
    },
    readLines: async (path, take) => {
      const text = desk.files.get(path);
      if (text === undefined) throw coded('ENOENT');
      const whole = text.slice(0, text.lastIndexOf('\n') + 1);
      take(whole);
      return Buffer.byteLength(whole);
    },
    appendTo: async (path, from) => {
      desk.files.set(path, Buffer.from(desk.files.get(path) ?? '').toString('utf8', 0, from));
      return {
        add: async (line) => {
          if (desk.failing?.path === path) throw coded(desk.failing.code);
          desk.files.set(path, (desk.files.get(path) ?? '') + line);
          if (desk.interruptAt === path) for (const stop of handlers) stop();
        },
        close: async () => {},
      };
    },
    cpuSeconds: () => 0,
    now: () => {
      if (desk.clock) return desk.clock();
      clock += 7;
      return clock;
    },
    cores: 2,
    ...(desk.startWorkers ? { startWorkers: desk.startWorkers } : {}),
    onInterrupt: (stop) => {
      handlers.add(stop);
      return () => void handlers.delete(stop);
    },
  };
}

/** Runs the command line at a desk; what it said is on the desk. */
export async function run(desk: Desk, argv: readonly string[], changes: Partial<Core> = {}, terminal = false): Promise<number> {
  return main(argv, ioOf(desk, terminal), { ...core, ...changes });
}

/** The same in one call, for tests that only ask what came out: exit code, what was said, the files afterwards. */
export async function ran(argv: readonly string[], given: Readonly<Record<string, string>> = {}, failing: Desk['failing'] = null, changes: Partial<Core> = {}) {
  const desk = Object.assign(createDesk(given), { failing });
  const code = await run(desk, argv, changes);
  return { code, out: desk.out, err: desk.err, files: Object.fromEntries(desk.files) };
}
