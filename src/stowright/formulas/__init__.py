"""Published mechanics: floats in, floats out, one module per source."""
