"""What stands on disk: habitat files, catalogues, meshes, photometry."""
