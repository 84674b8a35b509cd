from brimfast.reports.cli import main

main()
