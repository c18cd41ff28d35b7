/** TypeScript as a tree to walk: only what runs is visited, types and imports are passed over. */
import { parseSync } from 'vite';

/** A node as the parser makes it; offsets count UTF-16 units. */
export interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly [field: string]: unknown;
}

export interface Visit {
  readonly node: Node;
  /** From the program down to the parent. */
  readonly above: readonly Node[];
}

/** Whether something found in a field of a node is a node itself. */
export function isNode(value: unknown): value is Node {
  return (
    typeof value === 'object' && value !== null && typeof (value as { type?: unknown }).type === 'string'
  );
}

/** Syntax of a source. @throws SyntaxError when it does not parse */
export function parse(path: string, text: string): Node {
  const { program, errors } = parseSync(path, text);
  if (errors.length > 0) throw new SyntaxError(`${path}: ${errors.map(({ message }) => message).join('; ')}`);
  return program as unknown as Node;
}

/** Wrappers that vanish in the compiled code while what they hold stays. */
const WRAPPERS = new Set(['TSAsExpression', 'TSNonNullExpression', 'TSSatisfiesExpression']);
const LINKS = new Set(['ImportDeclaration', 'ExportAllDeclaration', 'ImportExpression', 'Decorator']);
const KEYED = new Set(['Property', 'MethodDefinition', 'PropertyDefinition', 'AccessorProperty']);

/** What the bundler reads without running it: `new Worker(…)` and addresses relative to the module. */
function isReadByBundler(node: Node, text: string): boolean {
  if (node.type !== 'NewExpression') return false;
  const code = text.slice(node.start, node.end);
  return /^new (?:Shared)?Worker\b/.test(code) || /^new URL\b[\s\S]*import\.meta\.url/.test(code);
}

/** Every node that runs, parents first. */
export function walk(program: Node, text: string): Visit[] {
  const visits: Visit[] = [];
  const into = (node: Node, above: readonly Node[]): void => {
    if (node.type.startsWith('TS') && !WRAPPERS.has(node.type)) return;
    if (LINKS.has(node.type) || isReadByBundler(node, text)) return;
    if (node.type === 'ExportNamedDeclaration' && isNode(node.source)) return;
    visits.push({ node, above });
    const path = [...above, node];
    for (const [field, value] of Object.entries(node)) {
      if (field === 'key' && KEYED.has(node.type) && node.computed !== true) continue;
      for (const child of Array.isArray(value) ? value : [value]) if (isNode(child)) into(child, path);
    }
  };
  into(program, []);
  return visits;
}
