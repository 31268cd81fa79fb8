// predict.js - the class votes before it sees.
import { byId, el, show } from './dom.js';

const CHOICES = [
  'Stows and deploys on target',
  'Stops short or runs past',
  'Jammed, reported stowed',
  'Controller faults',
];

export class Predict {
  constructor() {
    this.reset();
  }

  reset() {
    this.votes = CHOICES.map(() => 0);
    this.shown = false;
    this.draw();
  }

  draw() {
    byId('votes').replaceChildren(
      ...CHOICES.map((text, i) =>
        el(
          'button',
          { type: 'button', class: 'vote', onclick: () => this.vote(i) },
          el('span', {}, text),
          el('span', { class: 'tally' }, String(this.votes[i])),
        ),
      ),
    );
  }

  vote(index) {
    this.votes[index]++;
    this.draw();
    byId('votes').children[index].focus();
  }

  // the panel: while a prediction is asked for and not shown yet
  panel(isOn) {
    show(byId('predict-panel'), isOn && !this.shown);
    return isOn && !this.shown;
  }
}
