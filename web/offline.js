// Works without a network, and says when a newer form of the page is here. It is never loaded while somebody works: only on request.
import {say} from './words.js';

/** @param {import('./app.js').App} app */
export async function workOffline(app) {
  if (!('serviceWorker' in navigator) || window.top !== window) return;
  const {serviceWorker} = navigator;
  const controlled = serviceWorker.controller !== null; // else this is the first visit: nothing is newer than what is shown
  try {
    const registration = await serviceWorker.register('sw.js', {updateViaCache: 'none'});
    const look = (/** @type {?ServiceWorker} */ worker) => {
      if (!worker || !controlled) return;
      if (worker.state === 'installed') return offer(app, worker);
      worker.addEventListener('statechange', () => worker.state === 'installed' && offer(app, worker));
    };
    registration.addEventListener('updatefound', () => look(registration.installing));
    look(registration.waiting);
    look(registration.installing);
  } catch { /* a browser that allows none: the page works while there is a network */ }
}

/** @param {import('./app.js').App} app @param {ServiceWorker} worker the newer form, fetched and waiting */
function offer(app, worker) {
  const load = async () => {
    await app.keep.write();
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), {once: true});
    worker.postMessage('take-over');
  };
  app.bar.offerUpdate(load);
  app.show(say(app.keep.keeps ? 'update.ready' : 'update.ready.unkept'), {id: 'update', label: say('update.load'), act: load});
}
