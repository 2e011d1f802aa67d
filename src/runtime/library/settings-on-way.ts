/** Which settings are the newest: those that were typed here, or those that were read from the disk. */
export class SettingsOnWay {
  #typed = 0;
  #onWay = 0;

  /** Somebody typed something: what was read before it is old. */
  typed(): void {
    this.#typed += 1;
  }

  /** Runs a write. What is read before it is done is old. */
  async writing<T>(write: () => Promise<T>): Promise<T> {
    this.#onWay += 1;
    try {
      return await write();
    } finally {
      this.#onWay -= 1;
    }
  }

  /** Asked as a reading begins. The answer tells afterwards whether what was read is still the newest. */
  reading(): () => boolean {
    const typed = this.#typed;
    const isOld = this.#onWay > 0;
    return () => !isOld && typed === this.#typed;
  }
}
