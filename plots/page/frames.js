// frames.js - time passes with the frames of the screen, from the first of them on.

export class Frames {
  // `step(seconds)` is told what has passed since the frame before, until stop
  start(step) {
    this.stop();
    let before;
    const frame = (now) => {
      const passed = (now - (before ?? now)) / 1000;
      before = now;
      this.next = requestAnimationFrame(frame);
      step(passed);
    };
    this.next = requestAnimationFrame(frame);
  }

  stop() {
    cancelAnimationFrame(this.next);
  }
}
