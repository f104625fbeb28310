import { mapWords } from './core.ts';

/** The words of the maps, loaded with them: those that their pictures have too, and those of the page alone. */
export const words = {
  ...mapWords,
  scale: 'Scale',
  waiting: 'Working it out …',
  failed: (why: string): string => `could not be worked out (${why})`,
  none: 'No option has settled yet.',
  stale: 'from before the change; settle again to see its map',
  behind: 'behind',
  parts: 'Each part',
  ready: (title: string, lines: string): string => `${title}. ${lines}`,
  option: (letter: string, line: string): string => `${letter}: ${line}`,
} as const;
