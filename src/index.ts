/**
 * The public API: preview() and the stages. The browser page and the command line reach the core only through here.
 * (Being filled in; signatures below are the contract.)
 *
 *   parseBag(text | object): Bag                       throws BagError with every fault
 *   printBag(...): string                              round trip
 *   draftPanels(bag): Draft                            lengths, areas, seam pairing
 *   meshPanels(bag, draft, { edgeLength }): BagMesh
 *   layUp(bag, option, band): BagLaminates
 *   prepare(bag, { option, band, edgeLength, stance }): Scene      mesh + laminates + model + start positions
 *   fall(scene): Fall                                  step(): positions; one implicit step of 1/60 s, for the page
 *   settle(model, x0, options): Settled
 *   preview(spec, { option, stance, edgeLength, bands, onProgress }): Result
 */
export {};
