/** A file name of the commission that every system takes. */
export const fileName = (name: string, ending: string): string => {
	const plain = name
		.normalize("NFKD")
		.replace(/[^\w .()-]+/g, "")
		.trim()
		.slice(0, 80);
	return `${plain === "" || !/^\w/.test(plain) ? "commission" : plain}${ending}`;
};
