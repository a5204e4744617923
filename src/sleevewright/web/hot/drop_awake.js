/* Keeps the screen on: by asking where a browser may be asked, else by a muted picture that
   plays round and round, which works over plain http. */

export class Awake {
  constructor(video) {
    this.video = video;
    this.lock = null;
    this.way = "";
    document.addEventListener("visibilitychange", () => {
      if (!document.hidden && this.way) this.hold();
    });
  }

  /* Called by a press: a browser starts nothing before one. */
  async hold() {
    this.way = "asked";
    try {
      this.lock = (await navigator.wakeLock?.request("screen")) ?? null;
    } catch {
      this.lock = null;
    }
    if (this.lock) return this.way;
    try {
      await this.video.play();
      this.way = "picture";
    } catch {
      this.way = "none";
    }
    return this.way;
  }
}
