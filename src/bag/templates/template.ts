/** What one template file holds. */
export interface TemplateSource {
  /** Word typed after `new`. */ readonly name: string;
  readonly title: string;
  /** The one thing to look at. */ readonly question: string;
  /** The bag file but for its version, name and note; its parameters are what a maker may set. */
  readonly bag: {
    readonly wanted: string;
    readonly parameters: Readonly<Record<string, string | number>>;
    readonly panels: Readonly<Record<string, unknown>>;
    readonly seams: Readonly<Record<string, unknown>>;
    readonly straps?: Readonly<Record<string, unknown>>;
    readonly members?: Readonly<Record<string, unknown>>;
    readonly hardware?: Readonly<Record<string, unknown>>;
    readonly closures?: Readonly<Record<string, unknown>>;
    readonly stacks: Readonly<Record<string, unknown>>;
    readonly options: Readonly<Record<string, Readonly<Record<string, string>>>>;
    readonly stances: Readonly<Record<string, unknown>>;
  };
}
