import { registerElements } from './elements.ts';
import { keepOffline, lendStorage } from './offline/index.ts';
import { PARTS } from './part-manifest.ts';
import { fetchIfThere, registerParts, whenSeen } from './parts/index.ts';
import { preferredLanguage, speak } from './text/index.ts';

lendStorage();
registerParts(PARTS);
// Without its texts in the preferred language (first visit, connection lost meanwhile) the page is better in English than not there.
void fetchIfThere(() => speak(preferredLanguage())).then(() => {
  registerElements();
  // It fetches all files of the page.
  void whenSeen().then(keepOffline);
});
