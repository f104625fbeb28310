/** The worked programs of demos/programs, in a program's own folder beside the packed library. */
import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'vite';
import { installPacked } from './packed.ts';

/** A folder with the packed library and the programs as they came in its tarball. Returns the folder. */
export function installPrograms(): string {
  const program = installPacked();
  cpSync(join(program, 'node_modules/slumpline/demos/programs'), join(program, 'programs'), { recursive: true });
  return program;
}

/** Bundles the page of the programs as the comment at its head says; returns the folder that is to be served. */
export async function bundlePage(program: string): Promise<string> {
  const outDir = join(program, 'page'),
    mark = process.env.VITEST;
  // vitest marks the process; without the mark this is a build like any other.
  delete process.env.VITEST;
  try {
    await build({ root: join(program, 'programs/browser'), base: './', configFile: false, logLevel: 'error', build: { outDir, emptyOutDir: true } });
  } finally {
    process.env.VITEST = mark;
  }
  return outDir;
}
