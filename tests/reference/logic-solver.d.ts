/** The part of logic-solver that the tests use; the package has no types of its own. */
declare module 'logic-solver' {
  type Formula = object | string;
  interface Solution {
    getTrueVars(): string[];
  }
  class Solver {
    require(...formulas: Formula[]): void;
    solve(): Solution | null;
  }
  const Logic: {
    readonly Solver: typeof Solver;
    or(...formulas: Formula[]): Formula;
    and(...formulas: Formula[]): Formula;
    not(formula: Formula): Formula;
    implies(a: Formula, b: Formula): Formula;
    exactlyOne(...formulas: Formula[]): Formula;
    atMostOne(...formulas: Formula[]): Formula;
  };
  // The package is CommonJS: an import by default is the only one.
  // biome-ignore lint/style/noDefaultExport: a fact about the package
  export default Logic;
}
