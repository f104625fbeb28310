#!/usr/bin/env node
import { createReadStream } from 'node:fs';
import { access, constants, mkdir, open, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { dirname, resolve } from 'node:path';
import { performance } from 'node:perf_hooks';
import { startWorkers } from '../workers/node.ts';
import type { Io } from './io.ts';
import { main } from './main.ts';

/** A bag file is some kilobytes; anything of this size is a mistake, and reading it whole would only eat memory. */
const LARGEST_FILE = 16e6;

const io: Io = {
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  errIsTerminal: process.stderr.isTTY === true,
  outIsTerminal: process.stdout.isTTY === true && process.env.NO_COLOR === undefined,
  readFile: async (path) => {
    const { size } = await stat(path);
    if (size > LARGEST_FILE) throw new Error(`it is ${(size / 1e6).toFixed(0)} MB; a bag file has at most ${LARGEST_FILE / 1e6} MB`);
    return readFile(path, 'utf8');
  },
  readInput: async () => {
    const parts: Buffer[] = [];
    let size = 0;
    for await (const part of process.stdin) {
      parts.push(Buffer.from(part));
      size += part.length;
      if (size > LARGEST_FILE) throw new Error(`it goes on past ${LARGEST_FILE / 1e6} MB; a bag file has at most that`);
    }
    return Buffer.concat(parts).toString('utf8');
  },
  writeFile: (path, data) => writeFile(path, data),
  exists: (path) =>
    stat(path).then(
      () => true,
      () => false,
    ),
  rename: (from, to) => rename(from, to),
  remove: (path) => rm(path, { force: true }),
  mkdir: async (path) => void (await mkdir(path, { recursive: true })),
  mayWrite: async (folder) => {
    for (let at = resolve(folder); ; at = dirname(at)) {
      const found = await stat(at).catch((error: NodeJS.ErrnoException) => {
        if (error.code === 'ENOENT') return null;
        throw error;
      });
      if (found?.isDirectory() === false) throw Object.assign(new Error('not a folder'), { code: 'ENOTDIR' });
      if (found) return access(at, constants.W_OK | constants.X_OK);
    }
  },
  list: (folder) =>
    readdir(folder).catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return [];
      throw error;
    }),
  readLines: async (path, take) => {
    let left: Buffer = Buffer.alloc(0),
      whole = 0;
    for await (const part of createReadStream(path, { highWaterMark: 1 << 20 })) {
      const all = Buffer.concat([left, part as Buffer]),
        end = all.lastIndexOf(10) + 1;
      // Cut at the end of a line, so that no letter of several bytes is torn.
      if (end > 0) take(all.toString('utf8', 0, end));
      whole += end;
      left = all.subarray(end);
    }
    return whole;
  },
  appendTo: async (path, from) => {
    const file = await open(path, 'a');
    if ((await file.stat()).size > from) await file.truncate(from);
    // One after another: two lines at once could be written into one another.
    let last: Promise<void> = Promise.resolve();
    return {
      add: (line) => {
        last = last.then(async () => {
          await file.appendFile(line);
          await file.datasync();
        });
        return last;
      },
      close: async () => {
        await last.catch(() => undefined);
        await file.close();
      },
    };
  },
  now: () => performance.now(),
  cpuSeconds: () => {
    const { user, system } = process.cpuUsage();
    return (user + system) / 1e6;
  },
  cores: availableParallelism(),
  startWorkers: (count) => startWorkers({ count }),
  onInterrupt: (stop) => {
    process.on('SIGINT', stop);
    return () => void process.off('SIGINT', stop);
  },
};

// While it settles the program does not listen for Ctrl-C at all, so the system ends it at once and nothing has been written yet;
// only the writing itself listens (io.ts), to clear up its temporary files.

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // The reader at the other end of a pipe has had enough; that is no failure.
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});

process.exitCode = await main(process.argv.slice(2), io);
