export { orRefusal } from './or-refusal.ts';
export {
  nameOfPart,
  nameOfThread,
  partSentence,
  priceLine,
  priceRows,
  threadSentence,
  usedAndBought,
  whyNoPrice,
} from './price-words.ts';
export {
  basisSentences,
  chanceSentence,
  doubtNotes,
  doubtOfValue,
  meaningSentence,
  OFTEN_SHORT,
  plusMinus,
  plusMinusFine,
} from './say-doubt.ts';
export { headLengths, type PlaceRun, placeRuns, sayBeginning, sayPlaces } from './say-beginning.ts';
export { explain, sayError, sayServerError } from './say-error.ts';
export { saySize, sayStops } from './say-size.ts';
export { sayTitle } from './say-title.ts';
export { sayWorkOrderError } from './say-work-order.ts';
export { stepWords } from './steps.ts';
