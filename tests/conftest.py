"""Coverage of assess/ is counted in the tests that ask it: those of the faces run all of it over and over, at twice the time."""

COUNTED = ("test_bad_files", "test_improve", "test_json", "test_doubt")  # of the faces


def pytest_collection_modifyitems(items):
    for item in items:
        if "reports" in item.path.parts and item.path.stem not in COUNTED:
            item.add_marker("no_cover")
