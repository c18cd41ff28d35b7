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

function nameOf(node: unknown): string {
  if (!isNode(node)) return '';
  return String(node.name ?? (isNode(node.property) ? node.property.name : ''));
}

const isFunction = (node: Node): boolean =>
  node.type === 'ArrowFunctionExpression' || node.type === 'FunctionExpression';

/** What runs while this does: functions that are only made here are left out. */
function running(node: Node): Node[] {
  return below(
    node,
    (child, parent) =>
      !isFunction(child) || (parent.type === 'CallExpression' && AT_ONCE.test(nameOf(parent.callee))),
  );
}

const isThis = (node: unknown): boolean => isNode(node) && node.type === 'ThisExpression';

function classesIn(source: SourceFile): Node[] {
  return below(programOf(source)).filter(({ type }) => type === 'ClassDeclaration');
}

const byName = new Map(web.flatMap(classesIn).map((type) => [nameOf(type.id), type]));

/** Bodies of the methods of a class and of those that it extends, by name. */
function methodsOf(type: Node): ReadonlyMap<string, Node> {
  const members = isNode(type.body) ? childrenOf(type.body) : [];
  const base = byName.get(nameOf(type.superClass));
  return new Map([
    ...(base === undefined ? [] : methodsOf(base)),
    ...members
      .filter((member) => member.type === 'MethodDefinition' && isNode((member.value as Node).body))
      .map((member) => [nameOf(member.key), (member.value as Node).body as Node] as const),
  ]);
}

/** Events fired by a class while it is rendered, also by what its own methods call of each other. */
function firedIn(type: Node): string[] {
  const methods = methodsOf(type);
  return [...methods.keys()]
    .filter((name) => LIFECYCLE.has(name))
    .flatMap((name) => {
      const seen = new Set<string>();
      const fires = (method: string): boolean => {
        const body = methods.get(method);
        if (body === undefined || seen.has(method)) return false;
        seen.add(method);
        return running(body).some(({ type: kind, callee }) => {
          if (kind !== 'CallExpression') return false;
          if (nameOf(callee) === 'dispatchEvent') return true;
          return isNode(callee) && isThis(callee.object) && fires(nameOf(callee));
        });
      };
      return fires(name) ? [`${nameOf(type.id)}.${name}`] : [];
    });
}

/** Properties that others set, by their decorator. */
function inputsOf(type: Node): ReadonlySet<string> {
  const members = isNode(type.body) ? childrenOf(type.body) : [];
  return new Set(
    members
      .filter(({ decorators }) =>
        ((decorators ?? []) as Node[]).some(({ expression }) => {
          return isNode(expression) && nameOf(expression.callee) === 'property';
        }),
      )
      .map(({ key }) => nameOf(key)),
  );
}

/** Inputs that a class writes itself. */
function overwrittenIn(type: Node): string[] {
  const inputs = inputsOf(type);
  return below(type)
    .flatMap(({ type: kind, left, argument }) =>
      kind === 'AssignmentExpression' ? [left] : kind === 'UpdateExpression' ? [argument] : [],
    )
    .filter((to): to is Node => isNode(to) && isThis(to.object) && inputs.has(nameOf(to)))
    .map((to) => `${nameOf(type.id)}.${nameOf(to)}`);
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

/** Loops that wait for frames. */
function frameLoopsIn(source: SourceFile): string[] {
  const { path, text } = source;
  return below(programOf(source))
    .filter(({ type }) => /^(?:For|ForOf|While|DoWhile)Statement$/.test(type))
    .filter((loop) => below(loop).some((node) => nameOf(node) === 'requestAnimationFrame'))
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
    const later = 'class A { render() { return html`<p @click=$' + '{() => this.dispatchEvent(x)}></p>`; } }';
    expect(firedIn(only(later))).toEqual([]);
  });

  it('that write their own inputs, or look into others, would be found', () => {
    const own = 'class A { @property() a = 1; @state() b = 1; c() { this.a++; this.b = 2; this.a = 3; } }';
    expect(overwrittenIn(only(own))).toEqual(['A.a', 'A.a']);
    const looks =
      'a.shadowRoot; this.shadowRoot; all.map(({ renderRoot }) => renderRoot); this.host.renderRoot; this.#host.renderRoot;';
    const inClass = `class A { #host; a() { ${looks} const { renderRoot } = this; } }`;
    expect(intrusionsIn(file(inClass)).map((line) => line.replace(/.*: /, ''))).toEqual([
      'a.shadowRoot',
      'renderRoot',
      'this.host.renderRoot',
    ]);
    const loop = 'for (;;) await new Promise((done) => requestAnimationFrame(done));';
    expect(frameLoopsIn(file(`async function a() {\n${loop}\n}`))).toEqual(['web/board/lb-one.ts: 2']);
    const silent = "import { t } from '../text/index.ts';\nclass A extends LitElement {}";
    expect(unspokenIn(file(silent))).toEqual(['A']);
  });
});
