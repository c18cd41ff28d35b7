/** The words on the page as they are looked for in texts, and where a text may step out of the table. */

interface Twins {
  readonly en: RegExp;
  readonly de: RegExp;
  /** A text with the word, in both languages. */
  readonly sample: readonly [string, string];
}

/** What is one thing has one word, and its twin in the other language. Capitals tell a German noun from a verb. */
export const TWINS: Readonly<Record<string, Twins>> = {
  thread: { en: /\bthreads?\b/i, de: /Garn|garn/, sample: ['Buy thread', 'Kaufe Garn'] },
  skein: { en: /\bskeins?\b/i, de: /Docken?\b/, sample: ['2 skeins', '2 Docken'] },
  cord: { en: /\bcords?\b/i, de: /F[aä]den?\b/, sample: ['Fold each cord', 'Falte jeden Faden'] },
  string: { en: /\bstrings?\b/i, de: /[Ss]tr[aä]ng/, sample: ['14 strings', '14 Stränge'] },
  'knotting string': {
    en: /\bknotting strings?\b/i,
    de: /Knüpfstr[aä]ng/,
    sample: ['the knotting string', 'der Knüpfstrang'],
  },
  carrier: { en: /\bcarriers?\b/i, de: /Träger/, sample: ['the carrier', 'der Träger'] },
  place: { en: /\bplaces?\b/i, de: /\bPl[aä]tze?/, sample: ['place 3', 'Platz 3'] },
  peg: { en: /\bpegs?\b/i, de: /Zapfen/, sample: ['the peg', 'der Zapfen'] },
  bar: { en: /\bbars?\b/i, de: /Steg/, sample: ['on the bar', 'auf dem Steg'] },
  float: { en: /\bfloats?\b/i, de: /Querf[aä]den/, sample: ['a float shows', 'ein Querfaden zeigt sich'] },
  keychain: { en: /\bkeychains?\b/i, de: /[Aa]nhänger/, sample: ['this keychain', 'dieser Anhänger'] },
  repeat: { en: /\brepeats?\b/i, de: /Rapport/, sample: ['one repeat', 'ein Rapport'] },
  'lead-in': { en: /\blead-in\b/i, de: /Vorlauf/, sample: ['a lead-in', 'ein Vorlauf'] },
  gauge: { en: /\bgauge\b/i, de: /\bMaßen?\b/, sample: ['by your gauge', 'nach deinen Maßen'] },
  swatch: { en: /\bswatch(?:es)?\b/i, de: /\bProben?\b/, sample: ['a swatch', 'eine Probe'] },
  colourway: { en: /\bcolourways?\b/i, de: /Farbstellung/, sample: ['her colourway', 'ihre Farbstellung'] },
  'demo board': {
    en: /\bdemo boards?\b/i,
    de: /Beispielbrett/,
    sample: ['a demo board', 'ein Beispielbrett'],
  },
  owner: { en: /\bowners?\b/i, de: /Besitzer/, sample: ['the owner', 'der Besitzer'] },
  'co-maker': { en: /\bco-makers?\b/i, de: /Mitmacher/, sample: ['a co-maker', 'ein Mitmacher'] },
  reviewer: { en: /\breviewers?\b/i, de: /Prüfer/, sample: ['a reviewer', 'ein Prüfer'] },
  learner: { en: /\blearners?\b/i, de: /Lernende/, sample: ['a learner', 'ein Lernender'] },
  onlooker: { en: /\bonlookers?\b/i, de: /Zuschauer/, sample: ['an onlooker', 'ein Zuschauer'] },
};

/** Texts that name a thing in one language alone, each with its reason. */
export const NOT_TWINS: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  place: Object.fromEntries(
    [
      'closed.boardFull',
      'error.limit',
      'error.store-full',
      'error.full',
      'table.full',
      'talk.why.full',
      'talk.noRoom',
      'writing.room',
    ].map((key) => [key, 'German has one word for a place and for room']),
  ),
  string: { 'io.pasteHint': 'the line of a file begins with “strings”' },
};

interface Refused {
  readonly language: 'en' | 'de';
  readonly word: RegExp;
  readonly instead: string;
  /** A text that has it. */
  readonly sample: string;
  /** Texts that may, each with its reason. */
  readonly except?: Readonly<Record<string, string>>;
}

/** Words that the table has no row for, and words of it that would mean something else. */
export const REFUSED: readonly Refused[] = [
  {
    language: 'en',
    word: /\bends?\b/i,
    instead: 'a string hangs; end is how the band ends, or when something is over',
    sample: '14 ends on the bar',
    except: {
      'piece.purpose': 'how the band ends',
      'aid.short.end': 'how the band ends',
      'aid.short.needs': 'how the band ends',
      'aid.short.tight': 'how the band ends',
      'aid.short.endAfter': 'how the band ends',
      'aid.short.asLong': 'how the band ends',
      'aid.short.notShorter': 'how the band ends',
      'aid.short.endTake': 'how the band ends',
      'aid.measure': 'the knot at the end of the band',
      'piece.ending': 'how the band ends',
      'help.triangle': 'how the band ends',
      'table.where.end': 'a row of the end of the band',
      'ways.turned': 'the end of the band',
      'work.keys': 'a key',
      'steps.endRow': 'a row of the end of the band',
      'steps.hf': 'where a string comes to lie: a verb',
      'steps.hb': 'where a string comes to lie: a verb',
      'steps.hfb': 'where a string comes to lie: a verb',
      'steps.hbf': 'where a string comes to lie: a verb',
    },
  },
  {
    language: 'de',
    word: /\bEnden?\b/,
    instead: 'ein Strang hängt; Ende ist, wie das Band aufhört',
    sample: '14 Enden auf dem Steg',
    except: {
      'steps.endRow': 'eine Reihe vom Ende des Bandes',
      'aid.short.tight': 'das Ende des Bandes',
      'aid.short.asLong': 'das Ende des Bandes',
      'help.triangle': 'wie das Band aufhört',
      'table.where.end': 'eine Reihe vom Ende des Bandes',
      'ways.turned': 'das Ende des Bandes',
      'work.keys': 'eine Taste',
    },
  },
  { language: 'en', word: /\bpieces?\b/i, instead: 'keychain, cord, float', sample: 'the whole piece' },
  { language: 'de', word: /\bStücke?\b/, instead: 'Anhänger, Faden, Querfaden', sample: 'das ganze Stück' },
  { language: 'de', word: /\bSchn(?:ur|üre)/, instead: 'Garn oder Faden', sample: 'dünnere Schnur' },
  {
    language: 'de',
    word: /(?<!Quer)f[aä]den/,
    instead: 'Knüpfstrang, Träger, Querfaden',
    sample: 'Randfäden',
  },
  {
    language: 'en',
    word: /\bstrands?\b/i,
    instead: 'string or float',
    sample: 'a strand shows',
    except: {
      'gauge.thread.floss': 'what six-strand floss is called',
      'help.term.skeinText': 'what six-strand floss is called',
    },
  },
  { language: 'en', word: /\bboth sides\b/i, instead: 'left and right', sample: 'the same from both sides' },
  {
    language: 'de',
    word: /\bbeiden? Seiten\b/,
    instead: 'links und rechts',
    sample: 'von beiden Seiten gleich',
  },
  {
    language: 'en',
    word: /\bby (?:itself|themselves)\b/i,
    instead: 'automatically',
    sample: 'kept by itself',
  },
  {
    language: 'en',
    word: /(?<!\bthere )\bis no (?!longer\b)/i,
    instead: 'is not a …',
    sample: 'this file is no board',
  },
  { language: 'en', word: /\bput out\b/i, instead: 'loses access', sample: 'put out at once' },
  {
    language: 'en',
    word: /\bdoubtful\b|\bdoubt about\b/i,
    instead: 'how sure',
    sample: 'most doubtful cords',
  },
  {
    language: 'de',
    word: /unsicherst|Unsicherheit/,
    instead: 'wie sicher',
    sample: 'die unsichersten Fäden',
  },
  { language: 'de', word: /Halsband/, instead: 'Umhängeband', sample: 'kein Halsband' },
  { language: 'de', word: /Standardabweichung/, instead: 'Standardfehler', sample: 'Standardabweichung 0,1' },
  { language: 'de', word: /Aufziehen/, instead: 'Aufhängen', sample: 'Minuten fürs Aufziehen' },
  { language: 'de', word: /Begutacht|mitprüf/i, instead: 'Prüfer', sample: 'an Begutachter' },
  { language: 'de', word: /\bSchlinge/, instead: 'Schlaufe', sample: 'als Schlinge' },
];
