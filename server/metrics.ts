/** Counts and times, in the Prometheus text format 0.0.4 (prometheus.io/docs/instrumenting/exposition_formats). */

export interface Labels {
  readonly [name: string]: string;
}

const BUCKETS_MS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];

interface Histogram {
  readonly help: string;
  readonly counts: number[];
  sum: number;
  count: number;
}

const NO_LABELS: Labels = {};

function labelText(labels: Labels): string {
  if (labels === NO_LABELS) return '';
  const names = Object.keys(labels);
  if (names.length === 0) return '';
  const escaped = (value: string): string =>
    value.replaceAll('\\', '\\\\').replaceAll('"', '\\"').replaceAll('\n', '\\n');
  return `{${names.map((name) => `${name}="${escaped(labels[name] ?? '')}"`).join(',')}}`;
}

/** A set of named values. Label values must come from small fixed sets: each makes a line for ever. */
export class Metrics {
  readonly #counters = new Map<string, { readonly help: string; readonly values: Map<string, number> }>();
  readonly #gauges = new Map<string, { readonly help: string; readonly read: () => number }>();
  readonly #histograms = new Map<string, Histogram>();

  /** Adds to a counter. */
  count(name: string, help: string, labels: Labels = NO_LABELS, by = 1): void {
    let counter = this.#counters.get(name);
    if (!counter) {
      counter = { help, values: new Map() };
      this.#counters.set(name, counter);
    }
    const key = labelText(labels);
    counter.values.set(key, (counter.values.get(key) ?? 0) + by);
  }

  /** Sets how a value of the moment is read. */
  gauge(name: string, help: string, read: () => number): void {
    this.#gauges.set(name, { help, read });
  }

  /** Notes a duration in ms. */
  observe(name: string, help: string, ms: number): void {
    let histogram = this.#histograms.get(name);
    if (!histogram) {
      histogram = { help, counts: BUCKETS_MS.map(() => 0), sum: 0, count: 0 };
      this.#histograms.set(name, histogram);
    }
    // Where the clock was set back meanwhile less than nothing was measured.
    const took = Math.max(0, ms);
    histogram.sum += took;
    histogram.count += 1;
    for (let index = BUCKETS_MS.length - 1; index >= 0 && took <= BUCKETS_MS[index]!; index -= 1)
      histogram.counts[index]! += 1;
  }

  /** The value of a counter, for tests. */
  valueOf(name: string, labels: Labels = {}): number {
    return this.#counters.get(name)?.values.get(labelText(labels)) ?? 0;
  }

  /** Everything in the text format. */
  text(): string {
    const lines: string[] = [];
    for (const [name, { help, values }] of this.#counters) {
      lines.push(`# HELP ${name} ${help}`, `# TYPE ${name} counter`);
      for (const [labels, value] of values) lines.push(`${name}${labels} ${value}`);
    }
    for (const [name, { help, read }] of this.#gauges)
      lines.push(`# HELP ${name} ${help}`, `# TYPE ${name} gauge`, `${name} ${read()}`);
    for (const [name, { help, counts, sum, count }] of this.#histograms) {
      lines.push(`# HELP ${name} ${help}`, `# TYPE ${name} histogram`);
      BUCKETS_MS.forEach((le, index) => {
        lines.push(`${name}_bucket{le="${le}"} ${counts[index]}`);
      });
      lines.push(`${name}_bucket{le="+Inf"} ${count}`, `${name}_sum ${sum}`, `${name}_count ${count}`);
    }
    return `${lines.join('\n')}\n`;
  }
}
