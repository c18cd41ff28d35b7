/** How elements hold together: what none does while it is rendered, and that each keeps to its own. */
import { basename } from 'node:path/posix';
import { describe, expect, it } from 'vitest';
import { isNode, type Node, parse } from '../mutate/syntax.ts';
import { filesBelow, importsOf, readSource, type SourceFile } from './source-files.ts';

const web = filesBelow('web', ['.ts']).map(readSource);

const LIFECYCLE: ReadonlySet<string> = new Set([
  'shouldUpdate',
  'willUpdate',
  'update',
  'render',
  'firstUpdated',
  'updated',
  'hostUpdate',
  'hostUpdated',
]);

/** Calls that run a function they are given before they return; any other function runs later, if at all. */
const AT_ONCE = /^(?:map|flatMap|filter|find|findIndex|some|every|forEach|reduce|sort|repeat|keyed|read)$/;

const parsed = new Map<string, Node>();

/** As {@link parse}, once for each text. */
function programOf({ text, path }: SourceFile): Node {
  const program = parsed.get(text) ?? parse(path, text);
  parsed.set(text, program);
  return program;
}

function childrenOf(node: Node): Node[] {
  return Object.values(node).flatMap((value) => (Array.isArray(value) ? value : [value]).filter(isNode));
}

/** A node and all below it, parents first; `into` tells whether to go below one. */
function below(node: Node, into: (node: Node, parent: Node) => boolean = () => true): Node[] {
  return [node, ...childrenOf(node).flatMap((child) => (into(child, node) ? below(child, into) : []))];
}

/** Name of what is named, also of `a.b` and `a['b']`. */
function nameOf(node: unknown): string {
  if (!isNode(node)) return '';
  return String(node.name ?? (isNode(node.property) ? nameOf(node.property) : (node.value ?? '')));
}

const isFunction = (node: Node): boolean =>
  node.type === 'ArrowFunctionExpression' || node.type === 'FunctionExpression';

/** What runs while this does: functions that are only made here are left out. */
function running(node: Node): Node[] {
  return below(
    node,
    (child, parent) =>
      !isFunction(child) ||
      (parent.type === 'CallExpression' && AT_ONCE.test(nameOf(parent.callee))) ||
      // One that is called where it stands.
      parent.type === 'ParenthesizedExpression',
  );
}

const isThis = (node: unknown): boolean => isNode(node) && node.type === 'ThisExpression';

function classesIn(source: SourceFile): Node[] {
  return below(programOf(source)).filter(({ type }) => type === 'ClassDeclaration');
}

const byName = new Map(web.flatMap(classesIn).map((type) => [nameOf(type.id), type]));

interface Method {
  readonly body: Node;
  readonly isGetter: boolean;
}

/** What a class and those that it extends do, by name: methods, getters, and functions kept in fields. Behind `super.` what it overrides. */
function methodsOf(type: Node): ReadonlyMap<string, Method> {
  const members = isNode(type.body) ? childrenOf(type.body) : [];
  const base = byName.get(nameOf(type.superClass));
  const inherited = base === undefined ? [] : [...methodsOf(base)];
  const own = members.flatMap(({ type: kind, key, value, kind: how }): (readonly [string, Method])[] => {
    if (!isNode(value) || !isNode(value.body)) return [];
    if (kind !== 'MethodDefinition' && !(kind === 'PropertyDefinition' && isFunction(value))) return [];
    return [[nameOf(key), { body: value.body, isGetter: how === 'get' }]];
  });
  return new Map([
    ...inherited,
    ...inherited.map(([name, method]) => [`super.${name}`, method] as const),
    ...own,
  ]);
}

/** Events fired by a class while it is rendered, also by what its own methods call of each other. */
function firedIn(type: Node): string[] {
  const methods = methodsOf(type);
  return [...methods.keys()]
    .filter((name) => LIFECYCLE.has(name))
    .flatMap((name) => {
      const seen = new Set<string>();
      const fires = (name: string): boolean => {
        const method = methods.get(name);
        if (method === undefined || seen.has(name)) return false;
        seen.add(name);
        return running(method.body).some((node) => {
          if (isThis(node.object) && methods.get(nameOf(node))?.isGetter === true) return fires(nameOf(node));
          const { callee } = node;
          if (node.type !== 'CallExpression' || !isNode(callee)) return false;
          if (nameOf(callee) === 'dispatchEvent') return true;
          if (isNode(callee.object) && callee.object.type === 'Super')
            return fires(`super.${nameOf(callee)}`);
          return isThis(callee.object) && fires(nameOf(callee));
        });
      };
      return fires(name) ? [`${nameOf(type.id)}.${name}`] : [];
    });
}

/** Properties that others set, by their decorator; those of the class that it extends too. */
function inputsOf(type: Node): ReadonlySet<string> {
  const members = isNode(type.body) ? childrenOf(type.body) : [];
  const base = byName.get(nameOf(type.superClass));
  return new Set([
    ...(base === undefined ? [] : inputsOf(base)),
    ...members
      .filter(({ decorators }) =>
        ((decorators ?? []) as Node[]).some(({ expression }) => {
          return isNode(expression) && nameOf(expression.callee) === 'property';
        }),
      )
      .map(({ key }) => nameOf(key)),
  ]);
}

/** What is written by what stands left of a `=`, whether one thing or several. */
function targetsOf(node: unknown): Node[] {
  if (!isNode(node)) return [];
  switch (node.type) {
    case 'ArrayPattern':
      return (node.elements as unknown[]).flatMap(targetsOf);
    case 'ObjectPattern':
      return (node.properties as Node[]).flatMap(({ value, argument }) => targetsOf(value ?? argument));
    case 'AssignmentPattern':
      return targetsOf(node.left);
    case 'RestElement':
      return targetsOf(node.argument);
    case 'TSAsExpression':
    case 'TSNonNullExpression':
    case 'ParenthesizedExpression':
      return targetsOf(node.expression);
    default:
      return [node];
  }
}

/** Names of what a node writes of `this`. */
function writtenBy({ type, left, argument, operator, callee, arguments: given }: Node): string[] {
  const isWritten = type === 'AssignmentExpression' || type === 'ForOfStatement' || type === 'ForInStatement';
  const isTaken = type === 'UpdateExpression' || (type === 'UnaryExpression' && operator === 'delete');
  const targets = isWritten ? targetsOf(left) : isTaken ? targetsOf(argument) : [];
  const [to, ...from] = (given ?? []) as unknown[];
  const isAssign = type === 'CallExpression' && nameOf(callee) === 'assign' && isThis(to);
  const keys = isAssign ? from.filter(isNode).flatMap(({ properties }) => (properties ?? []) as Node[]) : [];
  return [
    ...targets.filter(({ object }) => isThis(object)).map(nameOf),
    ...keys.map(({ key }) => nameOf(key)),
  ];
}

/** Inputs that a class writes itself. */
function overwrittenIn(type: Node): string[] {
  const inputs = inputsOf(type);
  return below(type)
    .flatMap(writtenBy)
    .filter((name) => inputs.has(name))
    .map((name) => `${nameOf(type.id)}.${name}`);
}

/** Looks into what is drawn by another; a controller may look into its host. */
function intrusionsIn(source: SourceFile): string[] {
  const { path, text } = source;
  const program = programOf(source);
  const roots = /^(?:shadowRoot|renderRoot)$/;
  return below(program)
    .filter(({ type, object, property, key, parent }) => {
      if (type === 'MemberExpression' && roots.test(nameOf(property))) {
        const isHost =
          isNode(object) && isThis(object.object) && /#host\b/.test(text.slice(object.start, object.end));
        return !isThis(object) && !isHost;
      }
      return type === 'Property' && roots.test(nameOf(key)) && parent === undefined;
    })
    .filter((node) => !isOwnDestructured(program, node))
    .map((node) => `${path}: ${text.slice(node.start, node.end)}`);
}

/** Whether a pattern's property is taken from `this`. */
function isOwnDestructured(program: Node, property: Node): boolean {
  return below(program).some(
    ({ type, id, init }) =>
      type === 'VariableDeclarator' && isThis(init) && isNode(id) && below(id).includes(property),
  );
}

/** Loops that wait for frames, and functions that have themselves called at the next one. */
function frameLoopsIn(source: SourceFile): string[] {
  const { path, text } = source;
  const isFrame = (node: Node): boolean => nameOf(node) === 'requestAnimationFrame';
  return below(programOf(source))
    .filter((node) => {
      if (/^(?:For|ForOf|While|DoWhile)Statement$/.test(node.type)) return below(node).some(isFrame);
      const name = nameOf(node.id ?? node.key);
      const made = node.type === 'FunctionDeclaration' ? node : (node.init ?? node.value);
      if (name === '' || !isNode(made) || !/Function/.test(made.type)) return false;
      return below(made).some(
        ({ type, callee, arguments: given }) =>
          type === 'CallExpression' &&
          isFrame(callee as Node) &&
          (given as Node[]).flatMap((one) => below(one)).some((one) => nameOf(one) === name),
      );
    })
    .map(({ start }) => `${path}: ${text.slice(0, start).split('\n').length}`);
}

/** Elements that show text and are not rendered anew with the language. */
function unspokenIn(source: SourceFile): string[] {
  const { path, imports } = source;
  const hasText = imports.some(({ file, names }) => file === 'web/text/index.ts' && names.includes('t'));
  if (!hasText || !basename(path).startsWith('lb-')) return [];
  return classesIn(source)
    .filter(({ superClass }) => nameOf(superClass) === 'LitElement')
    .filter(
      ({ decorators }) =>
        !((decorators ?? []) as Node[]).some(({ expression }) => nameOf(expression) === 'spoken'),
    )
    .map(({ id }) => nameOf(id));
}

function file(text: string): SourceFile {
  const path = 'web/board/lb-one.ts';
  return { path, text, imports: importsOf(text, path) };
}

const only = (text: string): Node => classesIn(file(text))[0]!;

describe('elements', () => {
  it('are many', () => {
    expect(web.flatMap(classesIn).filter((type) => methodsOf(type).has('render')).length).toBeGreaterThan(40);
    expect(web.flatMap(classesIn).flatMap((type) => [...inputsOf(type)]).length).toBeGreaterThan(60);
  });

  it('fire nothing while they are rendered', () => {
    expect(web.flatMap(classesIn).flatMap(firedIn)).toEqual([]);
  });

  it('leave to others what others set', () => {
    expect(web.flatMap(classesIn).flatMap(overwrittenIn)).toEqual([]);
  });

  it('do not look into each other', () => {
    expect(web.flatMap(intrusionsIn)).toEqual([]);
  });

  it('look for nothing frame after frame', () => {
    expect(web.flatMap(frameLoopsIn)).toEqual([]);
  });

  it('that show text are rendered anew with the language', () => {
    expect(web.flatMap(unspokenIn)).toEqual([]);
  });

  it('that fire while they are rendered would be found', () => {
    expect(firedIn(only('class A { updated() { this.dispatchEvent(new Event("a")); } }'))).toEqual([
      'A.updated',
    ]);
    const far =
      'class A { willUpdate() { this.#a(); } #a() { [1].map(() => this.b()); } b() { this.dispatchEvent(x); } }';
    expect(firedIn(only(far))).toEqual(['A.willUpdate']);
    const inherited = 'class A extends Panel { updated() { this.light(null); } }';
    expect(firedIn(only(inherited))).toEqual(['A.updated']);
    for (const hidden of [
      'class A { update() { this.#b(); } readonly #b = () => { this.dispatchEvent(x); }; }',
      'class A { update() { return this.b; } get b() { this.dispatchEvent(x); return 1; } }',
      'class A { update() { (() => this.dispatchEvent(x))(); } }',
      'class A { update() { this["dispatchEvent"](x); } }',
      'class A extends Panel { update() { super.light(null); } light() {} }',
    ])
      expect(firedIn(only(hidden))).toEqual(['A.update']);
    const handed = 'class A { update() { on(this.#b); } readonly #b = () => { this.dispatchEvent(x); }; }';
    expect(firedIn(only(handed))).toEqual([]);
    const later = 'class A { render() { return html`<p @click=$' + '{() => this.dispatchEvent(x)}></p>`; } }';
    expect(firedIn(only(later))).toEqual([]);
  });

  it('that write their own inputs, or look into others, would be found', () => {
    const own = 'class A { @property() a = 1; @state() b = 1; c() { this.a++; this.b = 2; this.a = 3; } }';
    expect(overwrittenIn(only(own))).toEqual(['A.a', 'A.a']);
    for (const write of [
      '[this.a] = [1]',
      '({ b: this.a, ...this.c } = d)',
      '[this.a = 2] = []',
      'for (this.a of [1]) {}',
      'delete this.a',
      'this["a"] = 1',
      'this.a! += 1',
      '(this.a) = 1',
      'Object.assign(this, { a: 1 })',
    ])
      expect(overwrittenIn(only(`class A { @property() a = 1; b() { ${write}; } }`))).toEqual(['A.a']);
    const inside = 'class A { @property() a = { b: 1 }; c() { this.a.b = 2; [this.a.b] = [3]; } }';
    expect(overwrittenIn(only(inside))).toEqual([]);
    const heir = 'class A extends LbSetPage { b() { this.boardId = ""; } }';
    expect(overwrittenIn(only(heir))).toEqual(['A.boardId']);
    const looks =
      'a.shadowRoot; a?.["shadowRoot"]; this.shadowRoot; all.map(({ renderRoot }) => renderRoot); this.host.renderRoot; this.#host.renderRoot;';
    const inClass = `class A { #host; a() { ${looks} const { renderRoot } = this; } }`;
    expect(intrusionsIn(file(inClass)).map((line) => line.replace(/.*: /, ''))).toEqual([
      'a.shadowRoot',
      'a?.["shadowRoot"]',
      'renderRoot',
      'this.host.renderRoot',
    ]);
    const loop = 'for (;;) await new Promise((done) => requestAnimationFrame(done));';
    expect(frameLoopsIn(file(`async function a() {\n${loop}\n}`))).toEqual(['web/board/lb-one.ts: 2']);
    const again = 'const look = () => {\n if (!a) requestAnimationFrame(() => look());\n};';
    expect(frameLoopsIn(file(again))).toEqual(['web/board/lb-one.ts: 1']);
    const method =
      'class A { #b() { requestAnimationFrame(() => this.#b()); } c() { requestAnimationFrame(() => this.#b()); } }';
    expect(frameLoopsIn(file(method))).toHaveLength(1);
    const silent = "import { t } from '../text/index.ts';\nclass A extends LitElement {}";
    expect(unspokenIn(file(silent))).toEqual(['A']);
  });
});
