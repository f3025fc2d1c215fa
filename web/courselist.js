// The lessons of the course, in their order.
import {inLanguage} from './lessonwords.js';

/** In the order of the course; each is examples/lessons/<id>.lesson.json. */
export const course = [
  'hidden-joints', 'first-lamp', 'call-button', 'two-hands', 'two-doors', 'two-paths', 'sharing-voltage', 'dimmer', 'dusk', 'slow-fade',
  'beacon', 'timer-beacon', 'fog-horn', 'interlock', 'fault-hunt',
];

/** @param {string} id @returns {Promise<string>} the lesson file */
export async function readLesson(id) {
  const answer = await fetch(`examples/lessons/${id}.lesson.json`);
  if (!answer.ok) throw new Error(`examples/lessons/${id}.lesson.json: ${answer.status}`);
  return inLanguage(id, await answer.text());
}
