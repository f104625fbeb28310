// Runs before every other script, so it may use nothing but node's own modules: node_modules may not exist yet.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const lock = join(root, 'package-lock.json');
// npm writes this copy of the lock last, so a half-finished install never has it.
const installed = join(root, 'node_modules', '.package-lock.json');

/** Why an install is needed, or null when what is installed is what the lock file asks for. */
function reason() {
  if (!existsSync(join(root, 'node_modules'))) return 'node_modules is missing';
  if (!existsSync(installed)) return 'node_modules is incomplete';
  if (statSync(installed).mtimeMs >= statSync(lock).mtimeMs) return null;
  // git sets file times at check-out, so a newer lock need not be a different one. Wiping node_modules under
  // another running process is worse than reading two files.
  const want = JSON.parse(readFileSync(lock, 'utf8')).packages;
  const have = JSON.parse(readFileSync(installed, 'utf8')).packages;
  for (const [path, entry] of Object.entries(want)) {
    if (path === '' || entry.optional || entry.peer || entry.devOptional) continue;
    if (have[path]?.version !== entry.version) return `node_modules is older than the lock file (${path.replace(/^node_modules\//, '')} ${entry.version})`;
  }
  return null;
}

if (Number(process.versions.node.split('.')[0]) < 20) {
  console.error(`slumpline needs Node 20 or newer; this is ${process.versions.node}`);
  process.exit(1);
}
const why = reason();
if (why !== null) {
  console.log(`Installing: ${why}`);
  // --include=dev: NODE_ENV=production would otherwise leave out the tools that build the page.
  const args = ['ci', '--include=dev', '--no-audit', '--no-fund'];
  // The npm that started this script is the one to use; plain `npm` is a .cmd on Windows and may not be on PATH in containers.
  const npm = process.env.npm_execpath;
  const run = npm?.endsWith('.js')
    ? spawnSync(process.execPath, [npm, ...args], { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] })
    : spawnSync('npm', args, { cwd: root, stdio: ['ignore', 'inherit', 'inherit'], shell: process.platform === 'win32' });
  if (run.error) console.error(run.error.message);
  process.exit(run.status ?? 1);
}
