/**
 * A bump that is no peak of a component, for example of injected air at the
 * hold-up time; a Gaussian of either sign.
 *
 * @public
 */
export interface BumpRecipe {
  /** [min] Position of its extreme. */
  readonly time: number;
  /** [signal unit] Height; negative for a dip. */
  readonly height: number;
  /** [min] Standard deviation. */
  readonly sigma: number;
}

/**
 * The swing of the solvent at the hold-up time: dip then rise, rise then dip, or one of them alone.
 *
 * @public
 */
export interface VoidRecipe {
  /** Says what it is. */
  readonly kind: 'void';
  /** [min] Extreme of the first swing, a Gaussian. */
  readonly time: number;
  /** [signal unit] Height of the first swing; negative for a dip. */
  readonly height: number;
  /** [min] Standard deviation of the first swing. */
  readonly sigma: number;
  /**
   * The second swing, as a rule of the other sign.
   *
   * @defaultValue none
   */
  readonly second?: {
    /** [min] Its extreme after that of the first. */
    readonly delay: number;
    /** [signal unit] Its height. */
    readonly height: number;
    /** [min] Its standard deviation. */
    readonly sigma: number;
  };
}

/**
 * A bubble in the cell: there at once, stays, and is swept out.
 *
 * @public
 */
export interface BubbleRecipe {
  /** Says what it is. */
  readonly kind: 'bubble';
  /** [min] When it comes. */
  readonly time: number;
  /** [signal unit] What it adds. */
  readonly height: number;
  /**
   * [min] How long it stays.
   *
   * @defaultValue 0
   */
  readonly stay?: number;
  /**
   * [min] Time constant with which it is then swept out; 0 is at once.
   *
   * @defaultValue 0
   */
  readonly decay?: number;
}

/**
 * An electric spike; at least one reading is hit.
 *
 * @public
 */
export interface SpikeRecipe {
  /** Says what it is. */
  readonly kind: 'spike';
  /** [min] When. */
  readonly time: number;
  /** [signal unit] What it adds. */
  readonly height: number;
  /**
   * [s] How long it lasts; as short as one interval hits the one nearest reading.
   *
   * @defaultValue 0
   */
  readonly length?: number;
}

/**
 * A jump of the level that stays.
 *
 * @public
 */
export interface StepRecipe {
  /** Says what it is. */
  readonly kind: 'step';
  /** [min] When. */
  readonly time: number;
  /** [signal unit] What the level has changed by afterwards. */
  readonly height: number;
}

/**
 * Something in the record that is no peak.
 *
 * @public
 */
export type DisturbanceRecipe = VoidRecipe | BubbleRecipe | SpikeRecipe | StepRecipe;
