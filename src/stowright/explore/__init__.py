"""Everything that tries designs against proofs and layouts."""
