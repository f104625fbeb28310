/** A way to a part of the solver that is loaded when it is needed: most models do without, and a page waits for less. */
export interface Door<T> {
  /** Hands in what was loaded. */ readonly open: (loaded: T) => void;
  /** What was handed in. Throws where nothing was. */ readonly through: () => T;
}

/** missing: what is told where something is asked for that was not loaded. */
export function createDoor<T>(missing: string): Door<T> {
  let kernel: T | null = null;
  return {
    open: (loaded) => {
      kernel = loaded;
    },
    through: () => {
      if (!kernel) throw new Error(missing);
      return kernel;
    },
  };
}
