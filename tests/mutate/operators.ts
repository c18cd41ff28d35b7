/** The mutation operators: how one node of a source can be changed so that a good test notices. */
import { isNode, type Node, type Visit } from './syntax.ts';

/** One way to change a source: the text from `start` to `end` becomes `text`. */
export interface Change {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  /** As it stands in the id of a place; without a comma. */
  readonly name: string;
  /** Whatever runs when the place is reached: a whole expression or a whole statement. */
  readonly around: Node;
}

const SWAPS: Readonly<Record<string, readonly string[]>> = {
  '<': ['<=', '>='],
  '<=': ['<', '>'],
  '>': ['>=', '<='],
  '>=': ['>', '<'],
  '===': ['!=='],
  '!==': ['==='],
  '&&': ['||'],
  '||': ['&&'],
  '+': ['-'],
  '-': ['+'],
  '*': ['/'],
  '/': ['*'],
  '%': ['*'],
  '<<': ['>>'],
  '>>': ['<<'],
  '>>>': ['<<'],
  '&': ['|'],
  '|': ['&'],
  '+=': ['-='],
  '-=': ['+='],
  '*=': ['/='],
  '/=': ['*='],
  '|=': ['&='],
  '&=': ['|='],
};

const COMPARISON = /^(?:[<>]=?|[!=]==)$/;

/** Comparisons and negations have operators of their own: turning them round once more would be the same change twice. */
function isTurnedElsewhere(node: Node): boolean {
  if (node.type === 'ParenthesizedExpression') return isTurnedElsewhere(node.expression as Node);
  if (node.type === 'UnaryExpression') return node.operator === '!';
  return node.type === 'BinaryExpression' && COMPARISON.test(String(node.operator));
}

/** `<` to `<=` and `>=`, `&&` to `||`, `+` to `-` and so on, for one operator between two operands. */
function swapped(node: Node, text: string): Change[] {
  const [left, right] = [node.left as Node, node.right as Node];
  const between = text.slice(left.end, right.start);
  const operator = between.trim();
  // A comment between the operands may hold anything; such a place is left alone.
  if (operator !== node.operator) return [];
  const start = left.end + between.indexOf(operator);
  return (SWAPS[operator] ?? []).map((other) => ({
    start,
    end: start + operator.length,
    text: other,
    name: `${operator} -> ${other}`,
    around: node,
  }));
}

/** `!` and `-` before an operand are left out, `++` and `--` exchanged. */
function unary(node: Node, text: string): Change[] {
  const operand = node.argument as Node;
  const operator = String(node.operator);
  if (node.type === 'UpdateExpression') {
    const other = operator === '++' ? '--' : '++';
    const start = node.prefix === true ? node.start : operand.end;
    return text.startsWith(operator, start)
      ? [{ start, end: start + 2, text: other, name: `${operator} -> ${other}`, around: node }]
      : [];
  }
  if (operator !== '!' && operator !== '-') return [];
  return [{ start: node.start, end: operand.start, text: '', name: `${operator} -> nothing`, around: node }];
}

/** A condition means its opposite. */
function negated(node: Node, text: string): Change[] {
  const test = node.test as Node;
  if (isTurnedElsewhere(test) || test.type === 'Literal') return [];
  const { start, end } = test;
  return [{ start, end, text: `!(${text.slice(start, end)})`, name: 'condition negated', around: test }];
}

/** Whether a string is told to people or to a log: its words are no behaviour that a test should pin down. */
function isTold(value: string, above: readonly Node[]): boolean {
  // Sentences, and statements for a database, which fail whatever is tested.
  if (/\S\s+\S/.test(value)) return true;
  return above.some((node) => {
    if (node.type !== 'NewExpression' && node.type !== 'CallExpression') return false;
    const callee = node.callee as Node;
    const name = callee.type === 'MemberExpression' ? (callee.property as Node).name : callee.name;
    return /Error$|^(?:debug|info|warn|error|log)$/.test(String(name));
  });
}

const MANY = 100;

/** Booleans turned, numbers one more or none, strings emptied. */
function literal({ node, above }: Visit): Change[] {
  const { start, end, value } = node;
  const change = (text: string, name: string): Change[] => [{ start, end, text, name, around: node }];
  if (typeof value === 'boolean') return change(String(!value), `${value} -> ${!value}`);
  if (typeof value === 'number') {
    // One more of many is no difference; none at all is.
    const other = String(value < MANY ? value + 1 : 0);
    return change(other, `${String(node.raw)} -> ${other}`);
  }
  if (typeof value !== 'string' || value === '' || isTold(value, above)) return [];
  if (above.at(-1)?.type === 'ExpressionStatement') return [];
  return change("''", 'string emptied');
}

/** Statements whose only purpose is what they do. */
function removed(node: Node): Change[] {
  const expression = node.expression;
  if (isNode(expression)) {
    if (expression.type === 'Literal') return [];
    if (expression.type === 'CallExpression' && (expression.callee as Node).type === 'Super') return [];
  }
  const { start, end } = node;
  // A lone semicolon after a condition does not compile.
  return [{ start, end, text: '{}', name: 'statement removed', around: node }];
}

/** What a function says it returns, without its promise; null when it does not say. */
function returnType(fn: Node): Node | null {
  if (!isNode(fn.returnType) || fn.generator === true) return null;
  const type = fn.returnType.typeAnnotation as Node;
  if (fn.async !== true) return type;
  const args = type.typeArguments;
  return isNode(args) ? ((args.params as readonly Node[])[0] ?? null) : null;
}

/** Another value of a type, in the place of `code`; null when the type does not show one. */
function otherValue(type: Node, code: string): string | null {
  const { type: kind } = type;
  if (kind === 'TSTypeOperator') return otherValue(type.typeAnnotation as Node, code);
  if (kind === 'TSBooleanKeyword' || kind === 'TSTypePredicate') return `!(${code})`;
  if (kind === 'TSNumberKeyword') return '0';
  if (kind === 'TSStringKeyword') return "''";
  if (kind === 'TSArrayType') return '[]';
  if (kind !== 'TSUnionType') return null;
  const kinds = (type.types as readonly Node[]).map((one) => one.type);
  if (kinds.includes('TSNullKeyword')) return 'null';
  return kinds.includes('TSUndefinedKeyword') ? 'undefined' : null;
}

/** What is returned becomes another value of its type, as far as the function names it. */
function returned(value: Node, fn: Node, text: string): Change[] {
  const { start, end } = value;
  if (value.type === 'Literal' || isTurnedElsewhere(value)) return [];
  const type = returnType(fn);
  const code = text.slice(start, end);
  const other = type === null ? null : otherValue(type, code);
  if (other === null || other === code) return [];
  const name = other.startsWith('!') ? 'result negated' : `result -> ${other}`;
  return [{ start, end, text: other, name, around: value }];
}

const FUNCTION = /^(?:FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/;

/** Every change of one node. */
export function changesOf(visit: Visit, text: string): Change[] {
  const { node, above } = visit;
  switch (node.type) {
    case 'BinaryExpression':
    case 'LogicalExpression':
    case 'AssignmentExpression':
      return swapped(node, text);
    case 'UnaryExpression':
    case 'UpdateExpression':
      return unary(node, text);
    case 'IfStatement':
    case 'ConditionalExpression':
      return negated(node, text);
    case 'Literal':
      return literal(visit);
    case 'ExpressionStatement':
    case 'ThrowStatement':
    case 'ContinueStatement':
    case 'BreakStatement':
      return removed(node);
    case 'ReturnStatement': {
      const fn = above.findLast(({ type }) => FUNCTION.test(type));
      return fn !== undefined && isNode(node.argument) ? returned(node.argument, fn, text) : [];
    }
    case 'ArrowFunctionExpression': {
      const body = node.body as Node;
      return body.type === 'BlockStatement' ? [] : returned(body, node, text);
    }
    default:
      return [];
  }
}
