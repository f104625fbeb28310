import { parseSync } from 'vite';

/** One place where a file names another module. */
export interface ImportSite {
  readonly from: string;
  /** Gone at run time: `import type`, `export type`, `import('x').T` in a type. An inline `{ type T }` still loads the module, so it is not. */
  readonly typeOnly: boolean;
  readonly line: number;
}

/** A use of a name that the file neither declares nor imports: `document`, `Math.random`, `new Date`. */
export interface GlobalUse {
  readonly name: string;
  /** `Math.random` for a member with a fixed name, else the bare name. */
  readonly text: string;
  readonly line: number;
}

interface Node {
  readonly type: string;
  readonly start: number;
  readonly [key: string]: unknown;
}

const isNode = (value: unknown): value is Node => typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';

/** Calls `see` for every node with its parent and the key it hangs on. */
function walk(node: Node, see: (node: Node, parent: Node | null, key: string) => void, parent: Node | null = null, key = ''): void {
  see(node, parent, key);
  for (const [name, value] of Object.entries(node)) {
    if (Array.isArray(value)) {
      for (const item of value) if (isNode(item)) walk(item, see, node, name);
    } else if (isNode(value)) walk(value, see, node, name);
  }
}

/** Keys whose identifier is a label of something else, not a use of a variable. */
const labels: Readonly<Record<string, readonly string[]>> = {
  MemberExpression: ['property'],
  Property: ['key'],
  PropertyDefinition: ['key'],
  MethodDefinition: ['key'],
  AccessorProperty: ['key'],
  TSPropertySignature: ['key'],
  TSMethodSignature: ['key'],
  TSEnumMember: ['id'],
  TSQualifiedName: ['right'],
  ImportSpecifier: ['imported'],
  ExportSpecifier: ['exported'],
  MetaProperty: ['meta', 'property'],
  LabeledStatement: ['label'],
  BreakStatement: ['label'],
  ContinueStatement: ['label'],
};

/** Parents under which an identifier introduces a name. Patterns and parameters are handled by their own nodes. */
const declares: Readonly<Record<string, readonly string[]>> = {
  VariableDeclarator: ['id'],
  FunctionDeclaration: ['id', 'params'],
  FunctionExpression: ['id', 'params'],
  ArrowFunctionExpression: ['params'],
  TSDeclareFunction: ['id', 'params'],
  TSFunctionType: ['params'],
  TSMethodSignature: ['params'],
  ClassDeclaration: ['id'],
  TSInterfaceDeclaration: ['id'],
  TSTypeAliasDeclaration: ['id'],
  TSEnumDeclaration: ['id'],
  TSParameterProperty: ['parameter'],
  ImportSpecifier: ['local'],
  ImportDefaultSpecifier: ['local'],
  ImportNamespaceSpecifier: ['local'],
  CatchClause: ['param'],
  ArrayPattern: ['elements'],
  RestElement: ['argument'],
  AssignmentPattern: ['left'],
  TSTypeParameter: ['name'],
  TSNamedTupleMember: ['label'],
  TSIndexSignature: ['parameters'],
};

function parse(file: string, code: string): Node {
  const { program, errors } = parseSync(file, code);
  if (errors.length > 0) throw new Error(`${file} does not parse: ${errors[0]?.message}`);
  return program as unknown as Node;
}

const lineOf = (code: string, offset: number): number => code.slice(0, offset).split('\n').length;

const literal = (node: unknown): string | null => (isNode(node) && typeof node.value === 'string' ? node.value : null);

/** Every import of a file, static and dynamic; an `import(...)` of a computed name is reported as from '(computed)'. */
export function importsOf(file: string, code: string): ImportSite[] {
  const sites: ImportSite[] = [];
  walk(parse(file, code), (node) => {
    const line = lineOf(code, node.start);
    const from = literal(node.source);
    if (node.type === 'ImportDeclaration' || node.type === 'ExportAllDeclaration' || node.type === 'ExportNamedDeclaration') {
      if (from !== null) sites.push({ from, typeOnly: node.importKind === 'type' || node.exportKind === 'type', line });
    } else if (node.type === 'ImportExpression') sites.push({ from: from ?? '(computed)', typeOnly: false, line });
    else if (node.type === 'TSImportType') sites.push({ from: from ?? '(computed)', typeOnly: true, line });
    else if (node.type === 'TSImportEqualsDeclaration')
      sites.push({ from: literal((node.moduleReference as Node).expression) ?? '(computed)', typeOnly: false, line });
  });
  return sites;
}

/** Every use of a name the file does not declare anywhere. Types count too: a `Document` in a signature is the DOM as well. */
export function globalsOf(file: string, code: string): GlobalUse[] {
  const own = new Set<string>();
  const uses: { name: string; node: Node; parent: Node | null }[] = [];
  walk(parse(file, code), (node, parent, key) => {
    if (node.type === 'ObjectPattern') {
      // The same Property node means a use in an object literal and a new name in a pattern; only the pattern itself can tell.
      for (const { value } of node.properties as Node[]) if (isNode(value) && value.type === 'Identifier') own.add(value.name as string);
    }
    if (node.type !== 'Identifier') return;
    const name = node.name as string;
    if (parent !== null && declares[parent.type]?.includes(key)) own.add(name);
    const label = parent !== null && labels[parent.type]?.includes(key) && parent.computed !== true;
    if (!label) uses.push({ name, node, parent });
  });
  return uses
    .filter(({ name }) => !own.has(name))
    .map(({ name, node, parent }) => {
      const property = parent?.type === 'MemberExpression' && parent.object === node && parent.computed !== true ? (parent.property as Node) : null;
      return { name, text: property === null ? name : `${name}.${property.name as string}`, line: lineOf(code, node.start) };
    });
}

/** Lines with the power operator, `**` or `**=`. */
export function powersOf(file: string, code: string): number[] {
  const lines: number[] = [];
  walk(parse(file, code), (node) => {
    if ((node.type === 'BinaryExpression' && node.operator === '**') || (node.type === 'AssignmentExpression' && node.operator === '**='))
      lines.push(lineOf(code, node.start));
  });
  return lines;
}
