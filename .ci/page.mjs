// npm run page: builds the page and serves it until stopped.
import { fileURLToPath } from 'node:url';
import { preview } from 'vite';
import { buildParts } from './build.mjs';

try {
  await buildParts(['page']);
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exit(1);
}
// vite moves on to the next free port when the usual one is taken, so the address is asked for and never assumed.
const server = await preview({ configFile: fileURLToPath(new URL('../vite.config.ts', import.meta.url)), logLevel: 'warn' });
console.log(`\nThe page: ${server.resolvedUrls?.local[0] ?? 'no address'}\nStop it with Ctrl-C.`);
