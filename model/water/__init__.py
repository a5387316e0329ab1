"""model/water"""
