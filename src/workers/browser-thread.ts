import type { Ask } from './protocol.ts';
import { serve } from './serve.ts';

// The worker of browser.ts: this file is started, never imported.
addEventListener('message', (event: { readonly data: Ask }) => serve(event.data, (say) => postMessage(say)));
