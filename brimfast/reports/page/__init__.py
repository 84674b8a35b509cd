"""A local page in the browser that describes an installation by form and shows what the computation says of it."""
