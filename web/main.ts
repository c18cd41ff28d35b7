import './styles/tokens.css';
import { registerElements } from './elements.ts';
import { keepOffline, lendStorage } from './offline/index.ts';
import { preferredLanguage, speak } from './text/index.ts';

lendStorage();
// Without its texts in the preferred language (first visit, connection lost meanwhile) the page is better in English than not there.
await speak(preferredLanguage()).catch((error: unknown) => {
  if (!(error instanceof TypeError)) throw error;
});
registerElements();
keepOffline();
