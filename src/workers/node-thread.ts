import { parentPort } from 'node:worker_threads';
import type { Ask } from './protocol.ts';
import { serve } from './serve.ts';

// The thread of node.ts: this file is started, never imported.
parentPort?.on('message', (ask: Ask) => serve(ask, (say) => parentPort?.postMessage(say)));
