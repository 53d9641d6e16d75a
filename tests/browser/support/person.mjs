// Somebody at the screen: does only what is visible, and knows how long people take for it.

/**
 * Seconds by the keystroke-level model (Card, Moran and Newell, Communications of the ACM 23(7), 1980): an average
 * typist's key, pointing with a mouse, moving a hand between mouse and keys, and making up one's mind.
 */
const KEY = 0.28;
const POINT = 1.1;
const HOME = 0.4;
const MIND = 1.35;

/** Adults reading non-fiction in silence (Brysbaert, Journal of Memory and Language 109, 2019). */
const WORDS_PER_MINUTE = 238;

export class Person {
  seconds = 0;

  constructor(page) {
    this.page = page;
  }

  /** Reads every word of a screen, choices of closed lists aside. */
  async read() {
    const words = await this.page.locator("main").evaluate((main) => {
      const closed = [...main.querySelectorAll("select")].reduce((sum, list) => sum + list.innerText.split(/\s+/).length, 0);
      return main.innerText.split(/\s+/).length - closed;
    });
    this.seconds += (words / WORDS_PER_MINUTE) * 60;
  }

  async click(locator) {
    this.seconds += MIND + POINT + 2 * HOME;
    await locator.click();
  }

  /** Clicks into a field and types over what stands there. */
  async type(locator, text) {
    this.seconds += MIND + POINT + 2 * HOME + text.length * KEY;
    await locator.fill("");
    await locator.pressSequentially(text);
  }

  async choose(locator, label) {
    this.seconds += MIND + 2 * POINT + 2 * HOME;
    await locator.selectOption({ label });
  }

  async press(key) {
    this.seconds += MIND + KEY;
    await this.page.keyboard.press(key);
  }
}
