// Asks every so often whether what is shown is still the last that was made, and loads the page anew where it is not.
(function () {
  'use strict';
  const shown = document.currentScript.dataset.shown;
  const later = () => setTimeout(ask, document.hidden ? 2000 : 300);
  const ask = () => fetch('/.preview/shown', { cache: 'no-store' })
    .then((answer) => (answer.ok ? answer.text() : shown))
    .then((now) => (now === shown ? later() : location.reload()))
    .catch(later);
  later();
})();
