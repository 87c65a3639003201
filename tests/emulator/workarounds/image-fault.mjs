// The image did what no hardware would let it do: the run ends here, with a reason.
export class ImageFault extends Error {}
