import { expect, it } from "vitest";
import { lieOn } from "../../../core/drilling/lies.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { faceThatIsDown, lieText } from "../../../core/text/lieWords.ts";
import { IDENTITY, type Mat3 } from "../../../core/vector.ts";

const { faces } = stoneOf({ kind: "box", size: [200, 300, 400] });
const told = (name: string, rotation: Mat3): string => {
	const face = faces.find((one) => one.name === name);
	if (!face) throw new Error(`a block has a ${name}`);
	const lie = lieOn(face, rotation);
	const open = faces.map((one) => one.name).filter((one) => one !== lie.closedFace);
	expect(faceThatIsDown(open, faces)).toBe(name);
	return lieText(lie.name, lie.closedFace);
};

// The figure looks along −y and stands before us: its proper right, −x, is the side on our left (common practice, no source).
it("says the figure's own side and the block's face as we see it, which are opposite while it faces us", () => {
	expect(told("bed", IDENTITY)).toBe("upright: the block's bed down");
	expect(told("left", IDENTITY)).toBe("on its proper right side: the block's left face down");
	expect(told("right", IDENTITY)).toBe("on its proper left side: the block's right face down");
	expect(told("back", IDENTITY)).toBe("on its back: the block's back face down");
});

it("says the same side where the figure has its back to the block's front", () => {
	const turned: Mat3 = [-1, 0, 0, 0, -1, 0, 0, 0, 1];
	expect(told("left", turned)).toBe("on its proper left side: the block's left face down");
	expect(told("front", turned)).toBe("on its back: the block's front face down");
});
